// The light of the glass on the wall: the same law as in the proof, a tube at a distance
// h lights a wall as h/(h² + r²), made of four bell curves on a coarse grid.
const BELLS = [[0.545, 0.1832], [1.063, 0.3229], [2.127, 0.2501], [5.48, 0.1924]];

// wallGlow returns {w, h, data} of linear light on the wall rectangle, three floats a
// cell, for samples {x, y, rgb, length}.
export function wallGlow(samples, rect, distance, diameter, cells) {
  const k = cells / Math.max(rect.w, rect.h), w = Math.max(8, Math.round(rect.w * k)), h = Math.max(8, Math.round(rect.h * k));
  const out = new Float32Array(3 * w * h);
  for (let c = 0; c < 3; c++) {
    const src = new Float32Array(w * h);
    for (const s of samples) {
      const x = Math.floor((s.x - rect.x) * k), y = Math.floor((s.y - rect.y) * k);
      if (x >= 0 && x < w && y >= 0 && y < h) src[y * w + x] += s.rgb[c] * s.length * diameter * k * k;
    }
    for (const [sigma, share] of BELLS) {
      const b = blurred(src, w, h, Math.max(0.8, sigma * distance * k));
      for (let i = 0; i < b.length; i++) out[3 * i + c] += (b[i] * share * Math.PI) / 2;
    }
  }
  return { w, h, data: out };
}

// blurred is three box blurs, rows then columns.
function blurred(src, w, h, sigma) {
  let a = Float32Array.from(src), b = new Float32Array(w * h);
  const radius = (Math.sqrt(4 * sigma * sigma + 1) - 1) / 2;
  for (let pass = 0; pass < 3; pass++) {
    box(a, b, w, h, radius);
    box(b, a, h, w, radius);
  }
  return a;
}

function box(src, dst, w, h, radius) {
  const r = Math.floor(radius), part = radius - r, norm = 1 / (2 * radius + 1);
  for (let y = 0; y < h; y++) {
    const at = (x) => (x < 0 || x >= w ? 0 : src[y * w + x]);
    let sum = 0;
    for (let x = 0; x <= r; x++) sum += at(x);
    for (let x = 0; x < w; x++) {
      dst[x * h + y] = (sum + part * (at(x - r - 1) + at(x + r + 1))) * norm;
      sum += at(x + r + 1) - at(x - r);
    }
  }
}
