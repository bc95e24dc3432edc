// One unit of result.json as glass: lengths along it, places, and a centreline of
// chords to draw and to point at.
import { add, sub, cross, turned, unit, dist, lerp } from './vec.js';

const rad = Math.PI / 180;

export const lengthOf = (seg) => (seg.kind === 'arc' ? seg.radius * seg.angle * rad : dist(seg.from, seg.to));

// placeOn returns the place d mm along a segment.
export function placeOn(seg, d) {
  const n = lengthOf(seg);
  if (seg.kind === 'line') return n > 0 ? lerp(seg.from, seg.to, d / n) : seg.from;
  return add(seg.centre, turned(sub(seg.from, seg.centre), seg.axis, seg.angle * rad * (n > 0 ? d / n : 0)));
}

// dirOn returns the direction of travel at the start of a segment, or d mm along it.
export function dirOn(seg, d = 0) {
  if (seg.kind === 'line') return unit(sub(seg.to, seg.from));
  return unit(cross(seg.axis, sub(placeOn(seg, d), seg.centre)));
}

// Tube holds a unit with the developed distance at which each segment starts.
export class Tube {
  constructor(data) {
    this.data = data;
    this.id = data.id;
    this.starts = [0];
    for (const seg of data.path) this.starts.push(this.starts.at(-1) + lengthOf(seg));
    this.length = this.starts.at(-1);
  }

  // index returns the segment at s mm from electrode A.
  index(s) {
    let lo = 0, hi = this.data.path.length - 1;
    while (lo < hi) {
      const mid = (lo + hi + 1) >> 1;
      if (this.starts[mid] <= s) lo = mid; else hi = mid - 1;
    }
    return lo;
  }

  at(s) {
    const c = Math.min(Math.max(s, 0), this.length), i = this.index(c);
    return placeOn(this.data.path[i], c - this.starts[i]);
  }

  role(s) { return this.data.path[this.index(s)].role; }
  stroke(s) { return this.data.path[this.index(s)].stroke; }
  heat(s) { return this.data.bends.find((b) => b.start <= s && s <= b.end); }

  // chords returns the centreline as points with their s, no chord farther than tol mm
  // from its arc, and every change of role on a point.
  chords(tol) {
    const pts = [this.data.path[0].from], at = [0];
    this.data.path.forEach((seg, i) => {
      const n = chordsOf(seg, tol), length = lengthOf(seg);
      for (let k = 1; k <= n; k++) {
        pts.push(placeOn(seg, (length * k) / n));
        at.push(this.starts[i] + (length * k) / n);
      }
    });
    return { pts, at };
  }
}

function chordsOf(seg, tol) {
  if (seg.kind === 'line') return 1;
  return Math.max(1, Math.ceil((seg.angle * rad) / (2 * Math.acos(Math.max(0, 1 - tol / Math.max(seg.radius, tol))))));
}
