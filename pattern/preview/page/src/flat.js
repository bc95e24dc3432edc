// The glass as a drawing in two dimensions, for browsers without WebGL: the same pieces
// seen along one axis, from the front, the bench or the side. It answers to the same
// calls as Scene3.
import { css } from './colours.js';
import { nearest } from './model.js';

const NS = 'http://www.w3.org/2000/svg';

// AXES map a place to the drawing: its x, its y, and how near it is to the eye.
const AXES = {
  front: (p) => [p[0], -p[1], p[2]],
  bench: (p) => [-p[0], -p[1], -p[2]],
  side: (p) => [-p[2], -p[1], p[0]],
};

export class Flat {
  constructor(svg, model) {
    this.svg = svg;
    this.model = model;
    this.pieces = [];
    this.marksList = [];
    this.name = 'front';
    this.box = { x: 0, y: 0, w: 100, h: 100 };
    this.size = [1, 1];
    this.frames = [];
    this.fittings = this.wallOn = true;
    this.tone = () => ({ tone: [0.5, 0.5, 0.5], glow: 0, hidden: 0 });
  }

  ask() {
    if (this.pending) return;
    this.pending = requestAnimationFrame(() => { this.pending = null; this.render(); });
  }

  render() {
    const t = performance.now(), at = AXES[this.name], svg = this.svg, d = this.model.diameter;
    svg.replaceChildren();
    const aspect = this.size[0] / Math.max(1, this.size[1]);
    if (this.box.w < this.box.h * aspect) grow(this.box, 'x', 'w', this.box.h * aspect);
    else grow(this.box, 'y', 'h', this.box.w / aspect);
    svg.setAttribute('viewBox', [this.box.x, this.box.y, this.box.w, this.box.h].join(' '));
    if (this.background) put(svg, 'rect', { ...this.box, x: this.box.x, width: this.box.w, height: this.box.h, fill: css(this.background) });
    for (const g of this.ghosts ?? []) this.line(g.pts.map(at), '#8894a0', 1, {});
    const strands = this.pieces.flatMap((p) => this.strands(p, at)).sort((a, b) => a.near - b.near);
    for (const s of strands) {
      this.line(s.pts, 'rgba(0,0,0,.55)', d * 1.12, {});
      this.line(s.pts, css(s.tone.tone), d, s.tone.hidden ? { 'stroke-dasharray': `${d} ${d / 2}`, 'stroke-linecap': 'butt' } : {});
    }
    if (this.fittings) {
      for (const u of this.model.units) for (const e of u.data.electrodes) {
        const [x, y] = at(e.at);
        put(svg, 'circle', { cx: x, cy: y, r: 0.35 * d, fill: '#8a8378' });
      }
    }
    for (const m of this.marksList) {
      const [x, y] = at(m.at), k = this.box.w / Math.max(1, this.size[0]);
      if (m.ring) put(svg, 'circle', { cx: x, cy: y, r: 24 * k, fill: 'none', stroke: m.tone, 'stroke-width': 2.5 * k });
      if (m.along && !m.label) put(svg, 'circle', { cx: x, cy: y, r: 0.3 * d, fill: m.tone });
      if (m.label) {
        put(svg, 'circle', { cx: x, cy: y - 16 * k, r: 11 * k, fill: '#14171c', stroke: m.tone, 'stroke-width': 1.5 * k });
        put(svg, 'text', { x, y: y - 12 * k, 'font-size': 12 * k, fill: '#fff', 'text-anchor': 'middle' }).textContent = m.label;
      }
    }
    this.frames.push(performance.now() - t);
    this.onrender?.();
  }

  // strands cuts a piece where its tone changes.
  strands(p, at) {
    const out = [];
    let last = null;
    for (let i = 1; i < p.pts.length; i++) {
      const tone = this.tone(p, (p.at[i - 1] + p.at[i]) / 2), key = tone.tone.join() + tone.hidden;
      const a = at(p.pts[i - 1]), b = at(p.pts[i]);
      if (last?.key !== key) out.push((last = { key, tone, pts: [a], near: -Infinity }));
      last.pts.push(b);
      last.near = Math.max(last.near, Math.min(a[2], b[2]));
    }
    return out;
  }

  line(pts, stroke, width, more) {
    put(this.svg, 'polyline', { points: pts.map((q) => `${q[0].toFixed(2)},${q[1].toFixed(2)}`).join(' '), fill: 'none', stroke,
      'stroke-width': width, 'stroke-linecap': 'round', 'stroke-linejoin': 'round', ...more });
  }

  show(pieces, tone, { ghost = null } = {}) { this.pieces = pieces; this.tone = tone; this.ghosts = ghost; this.ask(); }
  dress(mode, tone, dark) {
    this.background = mode === 'lit' ? { light: [0.30, 0.30, 0.31], brick: [0.16, 0.09, 0.07] }[tone] ?? [0.06, 0.063, 0.075] : dark ? [0.13, 0.14, 0.165] : [0.90, 0.90, 0.885];
    this.ask();
  }

  visible({ fittings }) { this.fittings = fittings; this.ask(); }
  mark(list) { this.marksList = list; this.ask(); }
  resize(w, h) { this.size = [w, h]; this.ask(); }

  view(dir, box) {
    if (dir) this.name = dir[2] > 0.9 ? 'front' : dir[2] < -0.9 ? 'bench' : dir[2] < 0.1 ? 'side' : 'front';
    const a = AXES[this.name](box.min), b = AXES[this.name](box.max), m = 3 * this.model.diameter;
    this.box = { x: Math.min(a[0], b[0]) - m, y: Math.min(a[1], b[1]) - m, w: Math.abs(a[0] - b[0]) + 2 * m, h: Math.abs(a[1] - b[1]) + 2 * m };
    this.ask();
  }

  fly(at) {
    const [x, y] = AXES[this.name](at), w = Math.max(14 * this.model.diameter, 260);
    this.box = { x: x - w / 2, y: y - w / 2, w, h: w };
    this.ask();
  }

  orbit(dx) { if (Math.abs(dx) > 0) this.pan(-0.3 * dx, 0); }
  pan(dx, dy) { this.box.x += dx * this.box.w; this.box.y -= dy * this.box.h; this.ask(); }
  zoom(k) {
    const { x, y, w, h } = this.box;
    this.box = { x: x + (w * (1 - k)) / 2, y: y + (h * (1 - k)) / 2, w: w * k, h: h * k };
    this.ask();
  }

  pick(x, y) {
    const px = this.box.x + x * this.box.w, py = this.box.y + y * this.box.h, far = 1e5;
    const [o, d] = { front: [[px, -py, far], [0, 0, -1]], bench: [[-px, -py, -far], [0, 0, 1]], side: [[far, -py, -px], [-1, 0, 0]] }[this.name];
    return nearest(this.pieces, o, d, this.model.diameter / 2, (7 * this.box.w) / Math.max(1, this.size[0]));
  }

  project(p) {
    const [x, y] = AXES[this.name](p);
    return [(x - this.box.x) / this.box.w, (y - this.box.y) / this.box.h];
  }
}

function grow(box, at, size, to) {
  box[at] -= (to - box[size]) / 2;
  box[size] = to;
}

function put(parent, name, attributes) {
  const el = document.createElementNS(NS, name);
  for (const [k, v] of Object.entries(attributes)) el.setAttribute(k, v);
  parent.append(el);
  return el;
}
