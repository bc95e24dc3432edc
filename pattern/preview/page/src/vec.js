// Vectors and frames in three dimensions: plain arrays [x, y, z], millimetres.
export const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const mul = (a, k) => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const norm = (a) => Math.hypot(a[0], a[1], a[2]);
export const dist = (a, b) => norm(sub(a, b));
export const unit = (a) => mul(a, 1 / (norm(a) || 1));
export const lerp = (a, b, t) => add(a, mul(sub(b, a), t));

// turned turns v about a unit axis, right-handed (Rodrigues).
export function turned(v, axis, angle) {
  const c = Math.cos(angle), s = Math.sin(angle);
  return add(add(mul(v, c), mul(cross(axis, v), s)), mul(axis, dot(axis, v) * (1 - c)));
}

// A frame is a place o and three unit axes x, y, z, right-handed; x points along the
// travel of the tube.
export const identity = () => ({ o: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] });
export const dirIn = (f, v) => add(add(mul(f.x, v[0]), mul(f.y, v[1])), mul(f.z, v[2]));
export const pointIn = (f, p) => add(f.o, dirIn(f, p));
export const local = (f, v) => [dot(v, f.x), dot(v, f.y), dot(v, f.z)];
export const then = (f, g) => ({ o: pointIn(f, g.o), x: dirIn(f, g.x), y: dirIn(f, g.y), z: dirIn(f, g.z) });

export function inverse(f) {
  const o = mul([dot(f.o, f.x), dot(f.o, f.y), dot(f.o, f.z)], -1);
  return { o, x: [f.x[0], f.y[0], f.z[0]], y: [f.x[1], f.y[1], f.z[1]], z: [f.x[2], f.y[2], f.z[2]] };
}

export function turnedFrame(f, axis, angle) {
  return { o: f.o, x: turned(f.x, axis, angle), y: turned(f.y, axis, angle), z: turned(f.z, axis, angle) };
}

// alongDir returns a frame at o that travels along d, with any roll.
export function alongDir(o, d) {
  const other = Math.abs(d[2]) > 0.9 ? [0, 1, 0] : [0, 0, 1];
  const y = unit(cross(other, d));
  return { o, x: d, y, z: cross(d, y) };
}
