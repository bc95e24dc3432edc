// How a unit is bent, heat by heat: a port of the motion that the order of heats was
// planned by (package pattern/order), in the front frame.
//
// Glass between heats that are made is straight and does not twist. A heat closes all
// its arcs from straight at once and keeps its length; one side of the tube lies where
// it will lie in the finished unit, and the other is carried round.
import { add, mul, cross, turned, identity, then, inverse, turnedFrame, alongDir, local, pointIn } from './vec.js';
import { dirOn, lengthOf } from './tube.js';

const rad = Math.PI / 180;

// Fold prepares one unit: its heats as arcs in a frame that travels along the tube.
export class Fold {
  constructor(tube, plan) {
    this.tube = tube;
    this.heats = [];
    let f = null;
    for (const b of tube.data.bends) {
      const [first, last] = b.segments, segs = tube.data.path.slice(first, last + 1);
      f ??= alongDir(segs[0].from, dirOn(segs[0]));
      f = { ...f, o: segs[0].from };
      const entry = f, parts = [];
      for (const seg of segs) {
        const part = { length: lengthOf(seg), angle: 0, axis: [0, 0, 1] };
        if (seg.kind === 'arc') {
          part.angle = seg.angle * rad;
          part.axis = local(f, seg.axis);
          f = turnedFrame(f, seg.axis, part.angle);
        }
        parts.push(part);
      }
      f = { ...f, o: segs.at(-1).to };
      this.heats.push({ number: b.number, start: b.start, end: b.end, parts, entry, exit: f });
    }
    this.steps = stepsOf(plan, tube);
  }

  // state returns the glass at v: 0 is the straight stick, i the tube after i heats, the
  // last value the finished unit; in between a heat is being made. The result has the
  // pieces of the tube, {part, pts, at}: part is still, hot or moving.
  state(v) {
    const n = this.steps.length, i = Math.min(Math.floor(v), n);
    // After the last heat of a unit in parts, they stand welded.
    if (n === 0 || v > n || (i >= n && this.steps[n - 1].section > 0)) return { done: n, step: null, pieces: this.finished() };
    const u = v - i;
    if (i > 0 && (u === 0 || i >= n)) return this.pose(i - 1, 1, null);
    const bend = Math.max(0, (u - MOVE) / (1 - MOVE));
    const pose = this.pose(i, bend, u < MOVE && i > 0 ? u / MOVE : null);
    if (v === 0) { // nothing happens yet
      pose.step = null;
      for (const p of pose.pieces) p.part = 'still';
    }
    return pose;
  }

  // finished returns the whole unit, bent: from the same motion, not from the path of
  // result.json.
  finished() {
    const made = new Set(this.heats.map((_, i) => i));
    const walk = this.walk(0, this.tube.length, made, -1, 0);
    const at = this.heats.length ? then(this.heats[0].entry, inverse(walk.enter[0])) : alongDir(this.tube.at(0), dirOn(this.tube.data.path[0]));
    return place(walk.pieces, at, null);
  }

  // pose returns the glass while step i is bent to the share k. Moving tells how far the
  // glass has been moved from where the step before left it, null where it has arrived.
  pose(i, k, moving) {
    const step = this.steps[i], made = new Set(step.made);
    const walk = this.walk(step.glass[0], step.glass[1], made, step.heat, k);
    let frame = this.base(step, walk);
    if (moving !== null && this.steps[i - 1].section === step.section) {
      const before = this.steps[i - 1];
      const w = this.walk(before.glass[0], before.glass[1], new Set(before.made), before.heat, 1);
      // Where the last step left the glass at the start of this heat.
      const there = then(this.base(before, w), w.enter[step.heat] ?? w.enter[before.heat]);
      const here = then(frame, walk.enter[step.heat]);
      if (w.enter[step.heat]) frame = then(between(there, here, ease(moving)), inverse(walk.enter[step.heat]));
    }
    return { done: k === 1 ? i + 1 : i, step, bending: k, pieces: place(walk.pieces, frame, step) };
  }

  // base returns where the walk's own frame lies: the side that stays is in its place.
  base(step, walk) {
    const h = this.heats[step.heat];
    return step.swings === 'A' ? then(h.exit, inverse(walk.leave[step.heat])) : then(h.entry, inverse(walk.enter[step.heat]));
  }

  // walk goes along the glass from lo to hi with the heats of made bent and one heat
  // bent to the share k. It returns pieces split at that heat, and the frames in which
  // each heat is entered and left.
  walk(lo, hi, made, hot, k) {
    let f = identity(), s = lo, piece = { side: 'A', pts: [f.o], at: [s] };
    const pieces = [piece], enter = {}, leave = {};
    const straight = (n) => {
      if (n <= 0) return;
      f = { ...f, o: add(f.o, mul(f.x, n)) };
      s += n;
      piece.pts.push(f.o);
      piece.at.push(s);
    };
    const split = (side) => pieces.push((piece = { side, pts: [f.o], at: [s] }));
    this.heats.forEach((h, i) => {
      if (h.start < lo - 1e-9 || h.end > hi + 1e-9) return;
      straight(h.start - s);
      if (i === hot) split('hot');
      enter[i] = f;
      const share = i === hot ? k : made.has(i) ? 1 : 0;
      for (const p of h.parts) {
        const n = chords(p, share);
        const start = f, s0 = s;
        for (let j = 1; j <= n; j++) {
          f = then(start, arcStep(p, share, (p.length * j) / n));
          s = s0 + (p.length * j) / n;
          piece.pts.push(f.o);
          piece.at.push(s);
        }
      }
      leave[i] = f;
      if (i === hot) split('B');
    });
    straight(hi - s);
    return { pieces, enter, leave };
  }
}

// MOVE is the share of a step in which the glass is moved to the place of its heat.
const MOVE = 0.25;
const ease = (t) => t * t * (3 - 2 * t);

// stepsOf lists the heats of all sections in the order of making. Without a plan they
// are listed along the tube, and planned is false.
function stepsOf(plan, tube) {
  const out = [];
  for (const [si, section] of (plan?.sections ?? []).entries()) {
    const made = [];
    for (const step of section.steps) {
      const heat = section.first + step.heat;
      out.push({ ...step, heat, section: si, made: [...made], planned: true });
      made.push(heat);
    }
    if (section.steps.length === 0) {
      for (let heat = section.first; heat < section.last; heat++) {
        out.push({ heat, section: si, made: [...made], planned: false, swings: 'B', travel: 0,
          glass: [section.from - section.head, section.to + section.tail] });
        made.push(heat);
      }
    }
  }
  for (const step of out) step.bend = tube.data.bends[step.heat];
  return out;
}

// arcStep returns the frame d mm along a part bent to the share k of its angle.
function arcStep(p, k, d) {
  const angle = p.length > 0 ? (k * p.angle * d) / p.length : k * p.angle;
  if (Math.abs(angle) < 1e-9) return { ...identity(), o: [d, 0, 0] };
  const f = turnedFrame(identity(), p.axis, angle);
  const inward = mul(cross(p.axis, [1, 0, 0]), d / angle);
  return { ...f, o: add(inward, turned(mul(inward, -1), p.axis, angle)) };
}

function chords(p, k) {
  const angle = Math.abs(k * p.angle), r = p.length / Math.max(angle, 1e-9);
  if (r <= 0.15) return 1;
  return Math.max(1, Math.ceil(angle / (2 * Math.acos(1 - 0.1 / r))));
}

function place(pieces, frame, step) {
  return pieces.filter((p) => p.pts.length > 1).map((p) => ({
    part: step === null ? 'still' : p.side === 'hot' ? 'hot' : p.side === step.swings ? 'moving' : 'still',
    pts: p.pts.map((q) => pointIn(frame, q)),
    at: p.at,
  }));
}

// between returns the frame a share t of the way from a to b: its place on a straight
// line, its axes turned about one axis.
export function between(a, b, t) {
  const r = then({ ...inverse(a), o: [0, 0, 0] }, { ...b, o: [0, 0, 0] }); // in the axes of a
  const cos = Math.min(1, Math.max(-1, (r.x[0] + r.y[1] + r.z[2] - 1) / 2)), angle = Math.acos(cos);
  let axis = [r.y[2] - r.z[1], r.z[0] - r.x[2], r.x[1] - r.y[0]];
  const n = Math.hypot(...axis);
  if (n > 1e-6) axis = mul(axis, 1 / n);
  else { // half a turn: the axis is a column of (r + 1)/2
    const cols = [[r.x[0] + 1, r.x[1], r.x[2]], [r.y[0], r.y[1] + 1, r.y[2]], [r.z[0], r.z[1], r.z[2] + 1]];
    axis = cols.sort((p, q) => Math.hypot(...q) - Math.hypot(...p))[0];
    axis = Math.hypot(...axis) > 1e-6 ? mul(axis, 1 / Math.hypot(...axis)) : [0, 0, 1];
  }
  const turnedIn = turnedFrame(identity(), axis, t * angle);
  const f = then({ ...a, o: [0, 0, 0] }, turnedIn);
  return { ...f, o: add(mul(a.o, 1 - t), mul(b.o, t)) };
}
