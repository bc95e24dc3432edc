// The job as the page sees it: result.json, and beside it the plan of the heats, the
// lights and what stands behind the glass.
import { Tube } from './tube.js';
import { Fold } from './fold.js';
import { add, mul } from './vec.js';
import { say } from './words.js';
import { unitTone, depthTone, PARTS, PAINT, CLEAR } from './colours.js';

// ELECTRODE is the length drawn for an electrode in its glass, mm (M-low: catalogue
// lengths are 75 to 90 for small ones).
export const ELECTRODE = 80;

export class Model {
  constructor(result, extra) {
    this.result = result;
    this.extra = extra;
    this.diameter = result.tube.outside_diameter;
    this.units = result.units.map((u, i) => {
      const tube = new Tube(u), look = extra.units[i];
      return { index: i, id: u.id, data: u, tube, look, fold: null, tone: unitTone(i), chords: null };
    });
    this.strokes = new Map(result.strokes.map((s) => [s.id, s]));
    this.findings = result.findings.map((f, i) => ({ ...f, message: extra.findings[i][0], remedy: extra.findings[i][1] }));
    let pieces = 0;
    for (const u of this.units) pieces += u.data.path.length;
    this.long = pieces > 12000;
    // A long sign is drawn coarser, so that it still turns.
    this.tol = this.long ? 1.2 : pieces > 3000 ? 0.4 : 0.04;
    this.sides = this.long ? 6 : pieces > 3000 ? 8 : 14;
    this.deepest = 0;
    this.bounds = { min: [Infinity, Infinity, Infinity], max: [-Infinity, -Infinity, -Infinity] };
    for (const u of this.units) {
      for (const s of u.data.path) for (const p of [s.from, s.to]) {
        this.deepest = Math.min(this.deepest, p[2]);
        include(this.bounds, p);
      }
      for (const e of u.data.electrodes) include(this.bounds, add(e.at, mul(e.direction, ELECTRODE)));
    }
  }

  foldOf(u) { return (u.fold ??= new Fold(u.tube, u.look.plan)); }
  chordsOf(u) { return (u.chords ??= u.tube.chords(this.tol)); }

  lightAt(u, s) {
    let found = u.look.lights[0];
    for (const l of u.look.lights) if (l.at <= s + 1e-6) found = l;
    return found;
  }

  // tone returns how glass at s of a unit looks in a mode: its tone on the screen, whether
  // it glows, and whether it is marked as hidden.
  tone(u, s, mode) {
    const role = u.tube.role(s);
    if (mode === 'depth') return { tone: depthTone(u.tube.at(s)[2] / (this.deepest || -1)), glow: 0, hidden: 0 };
    if (mode === 'routing') return { tone: u.tone, glow: 0, hidden: role === 'lit' ? 0 : role === 'hidden' ? 1 : 0.5 };
    if (role === 'hidden') return { tone: PAINT, glow: 0, hidden: 0 };
    if (role === 'leg') return { tone: CLEAR, glow: 0, hidden: 0 };
    return { tone: this.lightAt(u, s).screen, glow: 1, hidden: 0 };
  }

  // whole returns all glass as pieces to draw.
  whole() {
    return this.units.map((u) => ({ unit: u, part: 'whole', ...this.chordsOf(u) }));
  }

  // stepped returns the glass of one unit at v of its steps.
  stepped(u, v) {
    const state = this.foldOf(u).state(v);
    return { ...state, pieces: state.pieces.map((p) => ({ unit: u, ...p })) };
  }

  partTone(part) { return PARTS[part] ?? PARTS.still; }

  // placeOf returns where a finding is; null where it is about the whole sign.
  placeOf(f) { return f.unit || f.at.some((v) => v !== 0) ? f.at : null; }

  // kindOf names the kind of a heat in the language of the page.
  kindOf(u, heat) { return u.look.heats.find((h) => h.number === heat.number)?.kind || heat.kind; }

  // say tells what glass is at s of a unit, in words.
  say(u, s) {
    const t = u.tube, c = Math.min(Math.max(s, 0), t.length), role = t.role(c), stroke = this.strokes.get(t.stroke(c)), heat = t.heat(c);
    const at = t.at(c), parts = [say('s-unit', u.id)];
    if (s < 0 || s > t.length) return [...parts, say('s-tail')];
    if (stroke) parts.push(say('s-stroke', stroke.id, stroke.text));
    else parts.push(say(role === 'hidden' ? 's-hidden' : 's-leg'));
    parts.push(heat ? say('s-heat', heat.number, this.kindOf(u, heat), Math.round(heat.angle)) : say('s-straight'));
    parts.push(say('s-along', c.toFixed(0), t.length.toFixed(0)));
    parts.push(at[2] > -0.05 ? say('s-face') : say('s-behind', (-at[2]).toFixed(0)));
    return parts;
  }
}

export function include(b, p) {
  for (let k = 0; k < 3; k++) {
    b.min[k] = Math.min(b.min[k], p[k]);
    b.max[k] = Math.max(b.max[k], p[k]);
  }
}

export function boundsOf(pieces) {
  const b = { min: [Infinity, Infinity, Infinity], max: [-Infinity, -Infinity, -Infinity] };
  for (const piece of pieces) for (const p of piece.pts) include(b, p);
  return b;
}

// nearest finds the glass under a ray from o along the unit vector d: {piece, s, at}, or
// null. Of glass that the ray goes through it is what lies in front; where it goes through
// none, what it passes most closely within reach mm.
export function nearest(pieces, o, d, radius, reach = radius) {
  let best = null, hits = false, depth = Infinity, gap = Infinity;
  for (const piece of pieces) {
    for (let i = 1; i < piece.pts.length; i++) {
      const hit = rayChord(o, d, piece.pts[i - 1], piece.pts[i]), through = hit.gap < radius;
      if (hit.gap > reach && !through) continue;
      const better = through ? !hits || hit.depth < depth - 1e-6 : !hits && hit.gap < gap;
      if (!better) continue;
      hits ||= through;
      depth = hit.depth;
      gap = hit.gap;
      best = { piece, s: piece.at[i - 1] + (piece.at[i] - piece.at[i - 1]) * hit.t, at: hit.at };
    }
  }
  return best;
}

function rayChord(o, d, a, b) {
  const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]], w = [a[0] - o[0], a[1] - o[1], a[2] - o[2]];
  const uu = u[0] * u[0] + u[1] * u[1] + u[2] * u[2], ud = u[0] * d[0] + u[1] * d[1] + u[2] * d[2];
  const uw = u[0] * w[0] + u[1] * w[1] + u[2] * w[2], wd = w[0] * d[0] + w[1] * d[1] + w[2] * d[2];
  const den = uu - ud * ud;
  const t = den > 1e-9 * uu ? Math.min(1, Math.max(0, (ud * wd - uw) / den)) : 0;
  const at = [a[0] + u[0] * t, a[1] + u[1] * t, a[2] + u[2] * t];
  const depth = (at[0] - o[0]) * d[0] + (at[1] - o[1]) * d[1] + (at[2] - o[2]) * d[2];
  return { t, at, depth, gap: Math.hypot(at[0] - o[0] - d[0] * depth, at[1] - o[1] - d[1] * depth, at[2] - o[2] - d[2] * depth) };
}
