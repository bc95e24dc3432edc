// The motion of the heats against the path of result.json: with all heats made the glass
// lies where the path says, and at no time does it change its length.
//
// TUBEWRIGHT_RESULTS names files preview.html to read; without it a unit made here.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import test from 'node:test';
import { Tube } from '../src/tube.js';
import { Fold, between } from '../src/fold.js';
import { alongDir, dist, dirIn } from '../src/vec.js';
import { nearest } from '../src/model.js';

// A staple: up, a quarter turn of 20 mm, across, a quarter turn, down (worked out by hand).
const q = (from, to, centre, axis) => ({ kind: 'arc', from, to, centre, axis, radius: 20, angle: 90, role: 'lit', stroke: 's1' });
const line = (from, to) => ({ kind: 'line', from, to, role: 'lit', stroke: 's1' });
const staple = {
  id: 'U1',
  path: [line([0, 0, 0], [0, 100, 0]), q([0, 100, 0], [20, 120, 0], [20, 100, 0], [0, 0, -1]), line([20, 120, 0], [80, 120, 0]),
    q([80, 120, 0], [100, 100, 0], [80, 100, 0], [0, 0, -1]), line([100, 100, 0], [100, 0, 0])],
  bends: [{ number: 1, kind: 'corner', segments: [1, 1], start: 100, end: 100 + 10 * Math.PI }, { number: 2, kind: 'corner', segments: [3, 3], start: 160 + 10 * Math.PI, end: 160 + 20 * Math.PI }],
  electrodes: [],
};
const whole = [-50, 320 + 20 * Math.PI];
const plan = { sections: [{ from: 0, to: 260 + 20 * Math.PI, head: 50, tail: 60, first: 0, last: 2,
  steps: [{ heat: 0, swings: 'B', glass: whole }, { heat: 1, swings: 'A', glass: whole }] }] };

function units() {
  const files = (process.env.TUBEWRIGHT_RESULTS ?? '').split(' ').filter(Boolean), out = [['staple', staple, plan]];
  for (const f of files) {
    const html = readFileSync(f, 'utf8'), part = (id) => JSON.parse(html.match(new RegExp(`id="${id}">(.*)</script>`))[1]);
    const extra = part('extra');
    part('result').units.forEach((u, i) => out.push([`${f} ${u.id}`, u, extra.units[i].plan]));
  }
  return out;
}

const lengthOf = (pieces) => pieces.reduce((n, p) => n + p.pts.slice(1).reduce((m, a, i) => m + dist(a, p.pts[i]), 0), 0);

for (const [name, data, planned] of units()) {
  const tube = new Tube(data), fold = new Fold(tube, planned);
  test(`${name}: finished glass lies on the path`, () => {
    for (const p of fold.state(fold.steps.length + 1).pieces) {
      p.pts.forEach((a, i) => assert.ok(dist(a, tube.at(p.at[i])) < 1e-3, `${dist(a, tube.at(p.at[i]))} mm off at ${p.at[i]}`));
    }
  });
  test(`${name}: after each step its heat lies where the path has it`, () => {
    fold.steps.forEach((step, i) => {
      const hot = fold.state(i + 0.9999999).pieces.find((p) => p.part === 'hot');
      hot.pts.forEach((a, k) => assert.ok(dist(a, tube.at(hot.at[k])) < 1e-2, `step ${i + 1}: ${dist(a, tube.at(hot.at[k]))} mm off`));
    });
  });
  test(`${name}: the glass keeps its length, and hangs together`, () => {
    for (let v = 0; v < fold.steps.length; v += 0.37) {
      const s = fold.state(v), n = s.pieces.length, want = s.pieces[n - 1].at.at(-1) - s.pieces[0].at[0];
      assert.ok(Math.abs(lengthOf(s.pieces) / want - 1) < 0.02, `at ${v}: ${lengthOf(s.pieces)} mm of ${want}`);
      for (let i = 1; i < n; i++) assert.ok(dist(s.pieces[i].pts[0], s.pieces[i - 1].pts.at(-1)) < 1e-6);
    }
  });
}

test('the straight stick is straight and carries its tails', () => {
  const s = new Fold(new Tube(staple), plan).state(0), a = s.pieces[0].pts[0], b = s.pieces.at(-1).pts.at(-1);
  assert.ok(Math.abs(dist(a, b) - (whole[1] - whole[0])) < 1e-9);
});

test('between two frames the axes stay square, and both ends are met', () => {
  const a = alongDir([1, 2, 3], [1, 0, 0]), b = alongDir([9, 9, 9], [-1, 0, 0]);
  for (const [f, t] of [[a, 0], [b, 1]]) {
    const g = between(a, b, t);
    assert.ok(dist(g.o, f.o) + dist(g.x, f.x) + dist(g.y, f.y) < 1e-6);
  }
  const mid = between(a, b, 0.5);
  assert.ok(Math.abs(dist([0, 0, 0], dirIn(mid, [1, 2, 2])) - 3) < 1e-9);
});

test('pointing takes the glass in front', () => {
  const at = (z) => ({ pts: [[-10, 0, z], [10, 0, z]], at: [0, 20], z });
  assert.equal(nearest([at(-30), at(0)], [3, 1, 100], [0, 0, -1], 6).piece.z, 0);
  assert.equal(Math.round(nearest([at(0)], [3, 1, 100], [0, 0, -1], 6).s), 13);
  assert.equal(nearest([at(0)], [3, 9, 100], [0, 0, -1], 6), null);
});
