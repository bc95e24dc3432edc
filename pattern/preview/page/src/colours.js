// Tones of the three ways of looking at the glass. Linear light where named so.

// unitTone returns the tone of unit i in the routing mode: hues a golden angle apart,
// so that neighbours differ, at two alternating lightnesses.
export function unitTone(i) {
  const hue = (i * 137.508 + 205) % 360, light = [0.58, 0.70, 0.50][i % 3];
  return hsl(hue / 360, 0.62, light);
}

function hsl(h, s, l) {
  const f = (n) => {
    const k = (n + h * 12) % 12;
    return l - s * Math.min(l, 1 - l) * Math.max(-1, Math.min(k - 3, 9 - k, 1));
  };
  return [f(0), f(8), f(4)];
}

// depthTone returns the tone of a share of the depth, 0 in the face and 1 at the deepest:
// from pale yellow over green to dark blue, ever darker, so that it reads without colour.
export function depthTone(t) {
  const stops = [[0.98, 0.90, 0.45], [0.55, 0.78, 0.40], [0.16, 0.58, 0.55], [0.16, 0.35, 0.62], [0.20, 0.14, 0.42]];
  const x = Math.min(Math.max(t, 0), 1) * (stops.length - 1), i = Math.min(Math.floor(x), stops.length - 2), k = x - i;
  return stops[i].map((v, j) => v + (stops[i + 1][j] - v) * k);
}

export const toScreen = (v) => (v <= 0.0031308 ? 12.92 * v : 1.055 * Math.pow(v, 1 / 2.4) - 0.055);
export const css = (c) => `rgb(${c.map((v) => Math.round(255 * Math.min(1, Math.max(0, v)))).join(',')})`;

// PARTS are the tones of a step: what stays, what is hot, what swings (screen values).
export const PARTS = { still: [0.62, 0.67, 0.72], hot: [1.0, 0.52, 0.12], moving: [0.30, 0.62, 0.92] };
export const PAINT = [0.055, 0.055, 0.06];
export const CLEAR = [0.50, 0.54, 0.56];
