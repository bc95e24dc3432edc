// The page: reads the job from its own document, draws it, and answers to mouse, touch
// and keyboard. Nothing is fetched.
import { Model, boundsOf } from './model.js';
import { Scene3, DIRECTIONS } from './scene.js';
import { Flat } from './flat.js';
import { Panel } from './panel.js';
import { unit, sub } from './vec.js';
import { say, speak } from './words.js';

const read = (id) => JSON.parse(document.getElementById(id).textContent);

class App {
  constructor() {
    const extra = read('extra');
    speak(extra.labels);
    this.model = new Model(read('result'), extra);
    this.stage = document.getElementById('stage');
    this.readout = document.getElementById('readout');
    this.readout.textContent = say('hint');
    this.view = 'front';
    this.mode = 'lit';
    this.wall = 'dark';
    this.stepping = null;
    this.v = 0;
    this.finding = -1;
    this.chosen = null;
    this.calm = matchMedia('(prefers-reduced-motion: reduce)');
    this.darkPage = matchMedia('(prefers-color-scheme: dark)').matches;
    this.flat = false;
    this.renderer = this.makeRenderer();
    this.panel = new Panel(document.getElementById('panel'), this);
    this.listen();
    this.theme();
    this.resize();
    this.refresh();
    this.frame('front', true);
  }

  makeRenderer() {
    const canvas = document.getElementById('glass'), svg = document.getElementById('drawing');
    if (location.hash !== '#flat') {
      try {
        const r = new Scene3(canvas, this.model);
        svg.remove();
        this.surface = canvas;
        return r;
      } catch { /* no WebGL here: the drawing says the same */ }
    }
    canvas.remove();
    svg.removeAttribute('hidden');
    const note = document.getElementById('flat-note');
    note.hidden = false;
    note.textContent = say('no-3d');
    this.flat = true;
    this.surface = svg;
    return new Flat(svg, this.model);
  }

  quick() { return this.calm.matches; }
  theme() { document.documentElement.dataset.theme = this.darkPage ? 'dark' : 'light'; }
  toggleTheme() { this.darkPage = !this.darkPage; this.theme(); this.refresh(); }

  resize() {
    const r = this.stage.getBoundingClientRect();
    this.renderer.resize(Math.max(1, r.width), Math.max(1, r.height));
  }

  // refresh draws what is to be seen now.
  refresh() {
    const m = this.model, mode = this.stepping ? 'steps' : this.mode;
    this.stage.dataset.mode = mode;
    this.renderer.dress(mode, this.wall, this.darkPage);
    this.renderer.visible({ wall: this.wall !== 'none' && !this.stepping, table: Boolean(this.stepping), fittings: !this.stepping });
    if (this.stepping) this.drawStep();
    else {
      this.renderer.show(m.whole(), (p, s) => m.tone(p.unit, s, this.mode), { halo: this.mode === 'lit' && m.tol < 1 });
      this.marks();
      this.panel.showStep(this, ['']);
    }
    this.panel.modes.set(this.stepping ? '' : this.mode);
    this.panel.showLegend(this);
    this.surface.setAttribute('aria-label', this.describe());
  }

  describe() {
    const m = this.model;
    if (this.stepping) return say('a-step', this.stepping.id, say(this.view), this.told()[0]);
    return say('a-sign', m.result.job.text.join(' / '), m.units.length, say(this.view), say(this.mode));
  }

  setView(v) {
    if (v === 'three' && this.flat) return;
    this.view = v;
    this.panel.views.set(v);
    this.frame(v);
    this.surface.setAttribute('aria-label', this.describe());
  }

  frame(v, quick) {
    const box = this.stepping ? this.stepBox() : this.chosen && !this.wholeSeen ? boundsOf([this.model.chordsOf(this.chosen)]) : this.model.bounds;
    this.byHand = false;
    this.renderer.view(DIRECTIONS[v], box, quick || this.quick());
  }

  // follow keeps the glass of a step in sight, until the view is moved by hand.
  follow() {
    if (this.byHand) return;
    this.renderer.view(null, this.stepBox(), this.quick());
  }

  setMode(v) {
    this.mode = v;
    this.stopSteps(false);
    this.panel.modes.set(v);
    this.refresh();
  }

  setWall(v) {
    this.wall = v;
    this.panel.walls.set(v);
    this.refresh();
  }

  // Steps through the heats.
  steps() { return this.model.foldOf(this.stepping).steps.length + 1; }

  startSteps(index) {
    this.stop();
    if (index < 0) { this.stopSteps(true); return; }
    this.stepping = this.model.units[index];
    this.v = 0;
    this.view = 'bench';
    this.panel.views.set('bench');
    this.refresh();
    this.frame('bench');
  }

  stopSteps(reframe) {
    this.stop();
    if (!this.stepping) return;
    this.stepping = null;
    this.refresh();
    if (reframe) this.setView('front');
    else this.frame(this.view);
  }

  setStep(v) {
    if (!this.stepping) return;
    this.stop();
    this.v = Math.min(Math.max(v, 0), this.steps());
    this.drawStep();
    this.follow();
  }

  // stepBy goes on or back by one heat, shown happening unless motion is unwanted.
  stepBy(by) {
    if (!this.stepping) this.startSteps(this.chosen?.index ?? 0);
    const to = Math.min(Math.max(by > 0 ? Math.floor(this.v + 1e-6) + 1 : Math.ceil(this.v - 1e-6) - 1, 0), this.steps());
    if (this.quick()) { this.setStep(to); return; }
    this.run(to);
  }

  run(to, then) {
    this.stop();
    this.follow();
    const from = this.v, span = 900 * Math.max(0.2, Math.abs(to - from));
    let k = 0, last = performance.now();
    const tick = () => {
      const now = performance.now();
      k = Math.min(1, k + Math.min(now - last, 200) / span); // a slow machine shows the motion too
      last = now;
      this.v = k === 1 ? to : from + (to - from) * k;
      this.drawStep();
      if (k < 1) this.moving = requestAnimationFrame(tick);
      else { this.moving = null; this.follow(); then?.(); }
    };
    this.moving = requestAnimationFrame(tick);
  }

  play() {
    if (this.playing) { this.stop(); return; }
    if (!this.stepping) this.startSteps(this.chosen?.index ?? 0);
    if (this.v >= this.steps()) this.setStep(0);
    this.playing = true;
    const next = () => {
      if (this.v >= this.steps()) { this.stop(); return; }
      if (this.quick()) { // no motion: one picture a heat
        this.v = Math.floor(this.v) + 1;
        this.drawStep();
        this.follow();
        this.timer = setTimeout(next, 1500);
        return;
      }
      const on = this.playing;
      this.run(Math.floor(this.v + 1e-6) + 1, () => { this.playing = on; this.timer = setTimeout(next, 350); });
      this.playing = on;
      this.panel.play.textContent = say('stop');
    };
    next();
    this.panel.play.textContent = say('stop');
  }

  stop() {
    cancelAnimationFrame(this.moving);
    clearTimeout(this.timer);
    this.moving = this.playing = null;
    if (this.panel) this.panel.play.textContent = say('play');
  }

  drawStep() {
    const m = this.model, u = this.stepping, state = m.stepped(u, this.v);
    const tone = (p, s) => ({ tone: m.partTone(p.part), glow: p.part === 'hot' ? 0.85 : 0, hidden: m.tol && s >= 0 && s <= u.tube.length && u.tube.role(s) === 'hidden' ? 0.4 : 0 });
    this.renderer.show(state.pieces, tone, { ghost: [m.chordsOf(u)] });
    this.state = state;
    this.renderer.mark(this.stickMarks(state), true);
    this.panel.showStep(this, this.told());
  }

  // stepBox is the room that the unit takes in this heat, from before to after.
  stepBox() {
    const m = this.model, i = Math.floor(this.v), at = this.v === i ? [i] : [i, i + 0.5, i + 1];
    return boundsOf(at.flatMap((v) => m.stepped(this.stepping, Math.min(v, this.steps())).pieces));
  }

  // stickMarks are the marks of heats that are still to come, on the glass as it lies, and
  // the number of the heat in the fire.
  stickMarks(state) {
    const u = this.stepping, out = [], place = (s) => {
      for (const p of state.pieces) {
        for (let i = 1; i < p.at.length; i++) {
          if (s >= p.at[i - 1] - 1e-6 && s <= p.at[i] + 1e-6 && p.at[i] > p.at[i - 1]) {
            const k = (s - p.at[i - 1]) / (p.at[i] - p.at[i - 1]), a = p.pts[i - 1], b = p.pts[i];
            return { at: a.map((v, j) => v + (b[j] - v) * k), along: unit(sub(b, a)) };
          }
        }
      }
      return null;
    };
    for (const h of u.look.heats) {
      const to = h.number > state.done, now = state.step?.bend.number === h.number;
      if (!to && !now) continue;
      for (const s of [h.from, h.to]) {
        const p = place(s);
        if (p) out.push({ ...p, tone: now ? '#ff7a1a' : '#20242b', width: now ? 3 : 2 });
      }
      const mid = place((h.from + h.to) / 2);
      if (mid) out.push({ at: mid.at, label: String(h.number), tone: now ? '#ff9a4a' : '#c7ced6', over: true });
    }
    for (const [s, name] of [[0, 'A'], [u.tube.length, 'B']]) {
      const p = place(s);
      if (p) out.push({ ...p, label: name, tone: '#7fc4ff', over: true });
    }
    return out;
  }

  // told says in words what the step does.
  told() {
    const fold = this.model.foldOf(this.stepping), n = fold.steps.length, v = this.v, i = Math.min(Math.floor(v), n);
    if (n === 0) return [say('t-straight')];
    if (v > n) return [say('t-done'), say('t-made', n, n)];
    if (v === 0) return [say('t-stick', n), ...this.sticks()];
    const step = fold.steps[v === i ? i - 1 : i], told = step.told ?? {}; // whole numbers: the heat just made
    const head = say('t-heat', step.bend.number, n, told.bend ?? step.bend.kind);
    const rest = [told.how, told.fire ? say('t-fire', told.fire) : null, told.why, ...(told.watch ?? []),
      step.planned ? null : say('t-noorder')];
    if (i >= n) rest.push(say('t-next'));
    return [head, ...rest.filter(Boolean)];
  }

  sticks() {
    return (this.stepping.look.plan?.pieces ?? []).map((p) => say('t-cut', p.number, p.length.toFixed(0), p.marks.length));
  }

  // Units, findings, places.
  seeUnit(u) {
    this.chosen = u;
    this.wholeSeen = false;
    this.panel.along.disabled = false;
    this.panel.along.value = '0';
    if (this.stepping) { this.startSteps(u.index); return; }
    this.frame(this.view);
    this.tell(this.model.say(u, 0));
    this.marks();
  }

  probe(share) {
    const u = this.chosen;
    if (!u) return;
    this.probed = { unit: u, s: share * u.tube.length };
    this.tell(this.model.say(u, this.probed.s));
    this.marks();
  }

  seeFinding(i) {
    const f = this.model.findings[i];
    if (!f) return;
    if (this.stepping) this.stopSteps(false);
    this.finding = i;
    const at = this.model.placeOf(f);
    if (at) this.renderer.fly(at, this.quick());
    else { // it is about the whole sign
      this.wholeSeen = true;
      this.frame(this.view);
    }
    this.marks();
    this.tell([say(f.severity), f.message, f.remedy].filter(Boolean));
  }

  marks() {
    const out = [], f = this.model.findings[this.finding];
    if (f && this.model.placeOf(f)) out.push({ at: f.at, ring: true, tone: { error: '#ff5a4d', warning: '#ffb02e' }[f.severity] ?? '#7fc4ff' });
    if (this.probed && this.chosen === this.probed.unit) out.push({ at: this.probed.unit.tube.at(this.probed.s), ring: true, small: true, tone: '#ffffff' });
    for (const u of this.chosen ? [this.chosen] : []) for (const e of u.data.electrodes) out.push({ at: e.at, label: e.end, tone: '#7fc4ff' });
    this.renderer.mark(out);
  }

  tell(parts) { this.readout.textContent = parts.join('  ·  '); }

  hover(e) {
    const r = this.surface.getBoundingClientRect(), hit = this.renderer.pick((e.clientX - r.left) / r.width, (e.clientY - r.top) / r.height);
    if (hit) this.tell(this.model.say(hit.piece.unit, hit.s));
    this.hit = hit;
  }

  key(e) {
    if (e.ctrlKey || e.metaKey || e.altKey || /^(SELECT|INPUT|SUMMARY)$/.test(e.target.tagName)) return;
    if (e.key === ' ' && e.target.tagName === 'BUTTON') return;
    const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    const walls = ['dark', 'brick', 'light', 'none'];
    const acts = {
      f: () => this.setView('front'), b: () => this.setView('bench'), s: () => this.setView('side'), t: () => this.setView('three'),
      l: () => this.setMode('lit'), r: () => this.setMode('routing'), d: () => this.setMode('depth'),
      w: () => this.setWall(walls[(walls.indexOf(this.wall) + 1) % walls.length]),
      '+': () => this.zoom(0.8), '=': () => this.zoom(0.8), '-': () => this.zoom(1.25), '_': () => this.zoom(1.25),
      '[': () => this.stepBy(-1), ']': () => this.stepBy(1), ' ': () => this.play(),
      home: () => this.stepping && this.setStep(0), end: () => this.stepping && this.setStep(this.steps()),
      n: () => this.seeFinding((this.finding + 1) % Math.max(1, this.model.findings.length)),
      p: () => this.seeFinding((this.finding - 1 + this.model.findings.length) % Math.max(1, this.model.findings.length)),
      u: () => this.model.units.length && this.seeUnit(this.model.units[((this.chosen?.index ?? -1) + 1) % this.model.units.length]),
      ',': () => this.nudge(-0.01), '.': () => this.nudge(0.01),
      escape: () => { this.chosen = null; this.wholeSeen = true; this.finding = -1; this.stepping ? this.stopSteps(true) : this.setView(this.view); this.marks(); },
    };
    if (turn) {
      this.byHand = true;
      if (e.shiftKey) this.renderer.pan(0.06 * turn[0], -0.06 * turn[1]);
      else this.renderer.orbit(-0.12 * turn[0], -0.12 * turn[1]);
    } else if (acts[e.key.toLowerCase()]) acts[e.key.toLowerCase()]();
    else return;
    e.preventDefault();
  }

  zoom(k) {
    this.byHand = true;
    this.renderer.zoom(k);
  }

  nudge(by) {
    if (!this.chosen) this.seeUnit(this.model.units[0]);
    this.panel.along.value = String(Math.min(1000, Math.max(0, Number(this.panel.along.value) + 1000 * by)));
    this.probe(Number(this.panel.along.value) / 1000);
  }

  listen() {
    let wait = null;
    this.surface.addEventListener('pointermove', (e) => {
      if (e.buttons && this.down && Math.hypot(e.clientX - this.down[0], e.clientY - this.down[1]) >= 6) this.byHand = true;
      if (e.buttons || wait) return;
      wait = requestAnimationFrame(() => { wait = null; this.hover(e); });
    });
    this.surface.addEventListener('wheel', () => { this.byHand = true; }, { passive: true });
    this.surface.addEventListener('pointerdown', (e) => { this.down = [e.clientX, e.clientY]; });
    this.surface.addEventListener('pointerup', (e) => {
      if (this.down && Math.hypot(e.clientX - this.down[0], e.clientY - this.down[1]) < 6) {
        this.hover(e);
        if (this.hit && !this.stepping) {
          this.chosen = this.hit.piece.unit;
          this.wholeSeen = true;
          this.panel.along.disabled = false;
          this.panel.along.value = String(Math.round((1000 * this.hit.s) / this.chosen.tube.length));
          this.probed = { unit: this.chosen, s: this.hit.s };
          this.marks();
        }
      }
    });
    window.addEventListener('keydown', (e) => this.key(e));
    new ResizeObserver(() => this.resize()).observe(this.stage);
    this.calm.addEventListener('change', () => { this.renderer.still = this.calm.matches; });
    this.renderer.still = this.calm.matches;
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', (e) => { this.darkPage = e.matches; this.theme(); this.refresh(); });
  }
}

const app = new App();

// What checks read back: the glass as it is drawn now, and how fast.
window.tubewright = {
  get state() {
    const f = app.renderer.frames;
    return { view: app.view, mode: app.stepping ? 'steps' : app.mode, wall: app.wall, flat: app.flat, v: app.v, steps: app.stepping ? app.steps() : 0,
      unit: app.stepping?.id ?? null, frame: f.length ? [...f].sort((a, b) => a - b)[f.length >> 1] : null, first: app.first, readout: app.readout.textContent };
  },
  glass: () => app.renderer.pieces.map((p) => ({ unit: p.unit.id, part: p.part, pts: p.pts, at: p.at })),
  project: (p) => app.renderer.project(p),
};
app.renderer.onrender = () => { app.first ??= performance.now(); };
