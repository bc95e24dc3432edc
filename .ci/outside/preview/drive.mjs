// Drives preview.html in Debian's Chromium. usage: node drive.mjs WORK [SHOTS]
// WORK holds a folder for each job: preview.html, and result.json but for long.
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const [work, shots] = process.argv.slice(2);
if (shots) mkdirSync(shots, { recursive: true });
const flags = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];
const GL = ['--use-angle=swiftshader', '--enable-unsafe-swiftshader'];
let passed = 0, failed = 0;

function check(ok, what) {
  if (ok) passed++;
  else { failed++; console.log('FAIL', what); }
}

// open loads a job and watches what the page says and asks for.
async function open(browser, job, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce', ...options });
  const page = await context.newPage(), said = [], asked = [];
  page.on('console', (m) => { if (['error', 'warning'].includes(m.type()) && !/GPU stall|GL Driver/.test(m.text())) said.push(m.text()); });
  page.on('pageerror', (e) => said.push(String(e)));
  page.on('request', (r) => { if (!r.url().startsWith('data:')) asked.push(r.url()); });
  await page.goto('file://' + join(work, job, 'preview.html'), { timeout: 120000 });
  await page.waitForFunction('window.tubewright && window.tubewright.state.first !== undefined', null, { timeout: 120000 });
  page.state = () => page.evaluate(() => window.tubewright.state);
  page.glass = () => page.evaluate(() => window.tubewright.glass());
  page.project = (p) => page.evaluate((q) => window.tubewright.project(q), p);
  page.settle = () => page.evaluate(() => new Promise((r) => requestAnimationFrame(() => requestAnimationFrame(r))));
  page.shot = async (name) => { await page.settle(); if (shots) await page.screenshot({ path: join(shots, `${job}-${name}.png`) }); };
  page.done = async () => {
    check(said.length === 0, `${job}: the page said ${said.slice(0, 3).join(' | ')}`);
    check(asked.length === 1, `${job}: the page asked for ${asked.slice(0, 4).join(' ')}`);
    await context.close();
  };
  return page;
}

// Places along a unit, straight from result.json: an own reading of its segments.
const rad = Math.PI / 180;
const len = (s) => (s.kind === 'arc' ? s.radius * s.angle * rad : Math.hypot(...s.to.map((v, i) => v - s.from[i])));
function place(unit, s) {
  for (const g of unit.path) {
    const n = len(g);
    if (s > n && g !== unit.path.at(-1)) { s -= n; continue; }
    if (g.kind === 'line') return g.from.map((v, i) => v + (g.to[i] - v) * Math.min(1, s / n));
    const v = g.from.map((x, i) => x - g.centre[i]), k = g.axis, a = s / g.radius;
    const kxv = [k[1] * v[2] - k[2] * v[1], k[2] * v[0] - k[0] * v[2], k[0] * v[1] - k[1] * v[0]], kv = k[0] * v[0] + k[1] * v[1] + k[2] * v[2];
    return v.map((x, i) => g.centre[i] + x * Math.cos(a) + kxv[i] * Math.sin(a) + k[i] * kv * (1 - Math.cos(a)));
  }
}
const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

// worst is how far the glass on the page is from result.json, mm.
function worst(glass, result) {
  let most = 0, n = 0;
  for (const p of glass) {
    const u = result.units.find((x) => x.id === p.unit), length = u.developed_length;
    p.pts.forEach((q, i) => {
      if (p.at[i] < -1e-6 || p.at[i] > length + 1e-6) return;
      most = Math.max(most, apart(q, place(u, Math.max(0, p.at[i]))));
      n++;
    });
  }
  return n > 1 ? most : Infinity;
}

const press = async (page, ...keys) => { for (const k of keys) { await page.keyboard.press(k); await page.settle(); } };

async function modesAndKeys(page, job, result) {
  await page.focus('#glass');
  check(worst(await page.glass(), result) < 1e-3, `${job}: the whole sign is not where result.json has it`);
  for (const [key, field, want] of [['r', 'mode', 'routing'], ['d', 'mode', 'depth'], ['l', 'mode', 'lit'], ['w', 'wall', 'brick'], ['w', 'wall', 'light'], ['w', 'wall', 'none'], ['w', 'wall', 'dark'],
    ['b', 'view', 'bench'], ['s', 'view', 'side'], ['t', 'view', 'three'], ['f', 'view', 'front']]) {
    await press(page, key);
    const got = (await page.state())[field];
    check(got === want, `${job}: key ${key} gives ${field} ${got}, not ${want}`);
    await page.shot(want);
  }
  const left = [0, 0, 0], right = [100, 0, 0], x = async () => (await page.project(right))[0] - (await page.project(left))[0];
  check(await x() > 0, `${job}: the front view does not read from left to right`);
  await press(page, 'b');
  check(await x() < 0, `${job}: the bench view is not mirrored`);
  await press(page, 'f');
  const before = await page.project(right);
  for (const key of ['ArrowLeft', 'ArrowUp', 'Shift+ArrowRight', '+', '-']) {
    const a = await page.project(right);
    await press(page, key);
    const b = await page.project(right);
    check(Math.hypot(a[0] - b[0], a[1] - b[1]) > 1e-4, `${job}: key ${key} moves nothing`);
  }
  await press(page, 'f');
  const after = await page.project(right);
  check(Math.hypot(before[0] - after[0], before[1] - after[1]) < 1e-6, `${job}: F does not bring the front back`);
}

// A lit place shows the lamp's light where result.json says, within a pixel (a support's
// clip may lie over it), and hovering there tells it.
async function pixelsAndHover(page, job, result) {
  await press(page, 'l', 'f', 'w', 'w', 'w'); // no wall: all light is the glass
  const box = await page.locator('#glass').boundingBox(), png = (await page.screenshot({ clip: box })).toString('base64');
  let bright = 0, told = 0, tried = 0;
  const places = [];
  for (const u of result.units.slice(0, 4)) {
    let s = 0;
    for (const g of u.path) {
      const n = len(g);
      if (g.role === 'lit' && g.kind === 'line' && n > 20 && Math.abs(g.from[2]) < 1e-6 && Math.abs(g.to[2]) < 1e-6) places.push({ u, s: s + n / 2, at: place(u, s + n / 2), stroke: g.stroke });
      s += n;
    }
  }
  // Where other glass runs within 2 D of a place, pointing may well mean that.
  const near = 2 * result.tube.outside_diameter, crowded = (p) => result.units.some((u) => {
    for (let s = 0; s < u.developed_length; s += near / 4) {
      const q = place(u, s);
      if (Math.hypot(q[0] - p.at[0], q[1] - p.at[1]) < near && !(u === p.u && Math.abs(s - p.s) < 2 * near)) return true;
    }
    return false;
  });
  places.splice(0, places.length, ...places.filter((p) => !crowded(p)).slice(0, 24));
  for (const p of places) p.xy = await page.project(p.at);
  const lum = await page.evaluate(async ({ png, xy }) => {
    const img = new Image();
    img.src = 'data:image/png;base64,' + png;
    await img.decode();
    const c = document.createElement('canvas');
    c.width = img.width;
    c.height = img.height;
    const ctx = c.getContext('2d', { willReadFrequently: true });
    ctx.drawImage(img, 0, 0);
    return xy.map(([x, y]) => Math.max(...ctx.getImageData(Math.round(x * img.width) - 1, Math.round(y * img.height) - 1, 3, 3).data.filter((_, i) => i % 4 < 3)));
  }, { png, xy: places.map((p) => p.xy) });
  for (const [i, p] of places.entries()) {
    tried++;
    if (lum[i] > 150) bright++;
    await page.mouse.move(box.x + p.xy[0] * box.width, box.y + p.xy[1] * box.height);
    await page.settle();
    const said = (await page.state()).readout, mm = Number(/(\d+) mm from A/.exec(said)?.[1]);
    if (said.includes(`Unit ${p.u.id} `) && said.includes(`stroke ${p.stroke} `) && Math.abs(mm - p.s) < 3 && said.includes('in the face')) told++;
    else console.log('  ', said, '| wanted', p.u.id, p.stroke, p.s.toFixed(1));
  }
  check(tried > 2 && bright === tried, `${job}: ${bright} of ${tried} lit places shine where they should`);
  check(tried > 2 && told === tried, `${job}: ${told} of ${tried} places are told right`);
  await press(page, 'w');
}

async function steps(page, job, result) {
  for (const [i, u] of result.units.slice(0, 6).entries()) {
    await page.selectOption('#step-unit', String(i));
    await page.settle();
    let st = await page.state();
    check(st.mode === 'steps' && st.unit === u.id && st.view === 'bench' && st.v === 0, `${job} ${u.id}: steps do not start`);
    const stick = (await page.glass()).flatMap((p) => p.pts), a = stick[0], b = stick.at(-1);
    const off = Math.max(...stick.map((q) => apart(q, a) + apart(q, b) - apart(a, b)));
    check(off < 1e-6 && apart(a, b) > 100, `${job} ${u.id}: the stick is not straight (${off})`);
    if (i === 0) await page.shot('stick');
    const told = new Set();
    await page.focus('#step');
    for (let k = 1; k < st.steps; k++) {
      await press(page, 'ArrowRight');
      const text = await page.locator('.told .now').textContent(), hot = (await page.glass()).filter((p) => p.part === 'hot');
      told.add(text);
      const n = Number(/^Heat (\d+) of/.exec(text)?.[1]);
      check(n === k, `${job} ${u.id}: step ${k} tells heat ${n}`);
      if (hot.length) check(worst(hot, result) < 0.02, `${job} ${u.id}: heat ${k} lies ${worst(hot, result)} mm from its place`);
      if (i === 0 && k === Math.ceil(st.steps / 2)) await page.shot('step');
    }
    check(told.size === u.bends.length, `${job} ${u.id}: ${told.size} heats told of ${u.bends.length}`);
    await press(page, 'End');
    st = await page.state();
    const gap = worst(await page.glass(), result);
    check(st.v === st.steps && gap < 1e-3, `${job} ${u.id}: the finished unit is ${gap} mm from result.json`);
    await press(page, 'ArrowLeft', 'Home');
    check((await page.state()).v === 0, `${job} ${u.id}: Home does not lead back to the stick`);
    await page.locator('#step').evaluate((e) => { e.value = '0.6'; e.dispatchEvent(new Event('input')); });
    check(Math.abs((await page.state()).v - 0.6) < 0.02, `${job} ${u.id}: the slider does not step within a heat`);
  }
  await page.locator('#step').blur();
  await press(page, 'Escape');
  check((await page.state()).mode !== 'steps', `${job}: Escape does not leave the steps`);
}

async function findings(page, job, result) {
  const rows = page.locator('.finding'), n = await rows.count();
  check(n === Math.min(60, result.findings.length), `${job}: ${n} findings listed of ${result.findings.length}`);
  let first = true;
  for (const i of [...result.findings.keys()].slice(0, n).filter((k) => k < 3 || k === n - 1)) {
    await rows.nth(i).click();
    await page.settle();
    const f = result.findings[i], placed = f.unit || f.at.some((v) => v !== 0), [x, y] = await page.project(f.at);
    if (placed) check(Math.hypot(x - 0.5, y - 0.5) < 0.01, `${job}: finding ${i} is flown to (${x}, ${y})`);
    else for (const u of result.units) { // it is about the whole sign, which is shown
      const end = await page.project(u.path[0].from);
      check(end.every((v) => v > 0 && v < 1), `${job}: finding ${i} has no place, and ${u.id} is out of sight at (${end})`);
    }
    const told = await rows.nth(i).locator('span').innerText();
    check(told.length > 8 && (await page.state()).readout.includes(told), `${job}: finding ${i} is not told`);
    if (placed && first) await page.shot('finding');
    first &&= !placed;
  }
}

async function labelled(page, job) {
  const bare = await page.evaluate(() => [...document.querySelectorAll('button, input, select, canvas, svg[role]')]
    .filter((e) => !(e.getAttribute('aria-label') || e.textContent.trim() || e.labels?.length)).map((e) => e.outerHTML.slice(0, 80)));
  check(bare.length === 0, `${job}: no name for ${bare.join(' ')}`);
}

// The same in a browser without WebGL.
async function flat(job, result) {
  const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: [...flags, '--disable-3d-apis', '--disable-gpu'] });
  const page = await open(browser, job);
  check((await page.state()).flat, `${job}: without WebGL no drawing stands in`);
  check(await page.locator('#drawing polyline').count() > 5, `${job}: the drawing is empty`);
  await press(page, 'r', 'b');
  check((await page.project([100, 0, 0]))[0] < (await page.project([0, 0, 0]))[0], `${job}: the drawing from the bench is not mirrored`);
  await page.shot('flat');
  await page.selectOption('#step-unit', '0');
  await page.focus('#step');
  await press(page, 'End');
  check(worst(await page.glass(), result) < 1e-3, `${job}: the drawing's finished unit is not that of result.json`);
  await page.context().close();
  await browser.close();
}

async function phone(browser, job) {
  const page = await open(browser, job, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2, colorScheme: 'dark' });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  check(wide <= 0, `${job}: on a phone the page is ${wide} px too wide`);
  const small = await page.evaluate(() => [...document.querySelectorAll('button, select, input')].filter((e) => e.offsetParent && e.getBoundingClientRect().height < 43.5).length);
  check(small === 0, `${job}: ${small} controls are too small for a finger`);
  check(await page.evaluate(() => document.documentElement.dataset.theme) === 'dark', `${job}: a dark phone gets a light page`);
  const glass = (await page.glass())[0], q = glass.pts[Math.floor(glass.pts.length / 2)], [x, y] = await page.project(q), box = await page.locator('#glass').boundingBox();
  await page.touchscreen.tap(box.x + x * box.width, box.y + y * box.height);
  await page.settle();
  check(/mm from A/.test((await page.state()).readout), `${job}: a tap tells nothing`);
  await page.shot('phone');
  await fingers(page, job, box);
  await page.selectOption('#step-unit', '0');
  await page.settle();
  const low = await page.locator('.transport').evaluate((e) => e.getBoundingClientRect().bottom);
  check(low <= 844, `${job}: on a phone the steps' buttons are ${low} px down, out of sight`);
  await page.shot('phone-steps');
  await page.done();
}

// Two fingers spread go nearer, moved they move the sign; one finger turns it.
async function fingers(page, job, box) {
  const cdp = await page.context().newCDPSession(page), cx = box.x + box.width / 2, cy = box.y + box.height / 2;
  const touch = async (type, ...points) => {
    await cdp.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x: cx + x, y: cy + y, id })) });
    await page.settle();
  };
  const seen = async () => { const a = await page.project([0, 0, 0]), b = await page.project([100, 0, 0]); return { a, wide: b[0] - a[0] }; };
  const drag = async (...path) => {
    await touch('touchStart', ...path[0]);
    for (const at of path.slice(1)) await touch('touchMove', ...at);
    await touch('touchEnd');
  };
  const whole = await seen();
  await drag([[-30, 0], [30, 0]], [[-50, 0], [50, 0]], [[-80, 0], [80, 0]]);
  const near = await seen();
  check(near.wide > 1.3 * whole.wide, `${job}: a pinch of ${(160 / 60).toFixed(1)} makes 100 mm go from ${whole.wide} to ${near.wide} of the width`);
  await drag([[-40, 0], [40, 0]], [[-40, 30], [40, 30]], [[-40, 60], [40, 60]]);
  const moved = await seen();
  check(moved.a[1] - near.a[1] > 0.05 && Math.abs(moved.wide / near.wide - 1) < 0.1, `${job}: two fingers moved down move the sign by ${moved.a[1] - near.a[1]}`);
  await drag([[0, 0]], [[40, 0]], [[90, 0]]);
  const turned = await seen();
  check(Math.abs(turned.wide / moved.wide - 1) > 0.02, `${job}: one finger does not turn the sign`);
  await page.locator('button[data-value="front"]').tap();
  await page.settle();
  const back = await seen();
  check(Math.abs(back.wide / whole.wide - 1) < 1e-6, `${job}: Front does not bring the whole sign back`);
}

// Play moves on by itself, and stands still when asked to.
async function motion(browser, job) {
  const page = await open(browser, job, { reducedMotion: 'no-preference' });
  await page.selectOption('#step-unit', '0');
  await page.click('button[aria-label="One heat on"]');
  const seen = new Set();
  for (let i = 0; i < 200 && (await page.state()).v !== 1; i++) {
    seen.add((await page.state()).v);
    await page.waitForTimeout(100);
  }
  check((await page.state()).v === 1, `${job}: one heat on does not arrive`);
  check([...seen].some((v) => v > 0 && v < 1), `${job}: the heat is not seen happening`);
  await page.done();
}

async function hostile(browser) {
  const page = await open(browser, 'hostile'), result = JSON.parse(readFileSync(join(work, 'hostile', 'result.json'), 'utf8'));
  check(await page.evaluate(() => window.pwned) === undefined, 'hostile: a text of the job ran');
  check(await page.locator('h1').textContent() === result.job.text.join(' / '), 'hostile: the heading is not the text');
  check((await page.locator('.facts').textContent()).startsWith(result.job.font), 'hostile: the font is not named as it is');
  check(/<script>|onerror/.test(result.job.text.join() ) && /onerror/.test(result.job.font), 'hostile: the job is not hostile');
  check(await page.locator('img, main script').count() === 0, 'hostile: an element was made');
  await page.click('.unit');
  await page.shot('hostile');
  await page.done();
}

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: [...flags, ...GL] });
const jobs = readdirSync(work).filter((d) => existsSync(join(work, d, 'result.json')) && d !== 'hostile').sort();
check(jobs.length >= 3, `only ${jobs.length} jobs to look at`);
for (const job of jobs) {
  const result = JSON.parse(readFileSync(join(work, job, 'result.json'), 'utf8')), page = await open(browser, job), st = await page.state();
  console.log(`${job}: ${result.units.length} units, ${statSync(join(work, job, 'preview.html')).size} bytes, first picture ${st.first.toFixed(0)} ms, frame ${st.frame.toFixed(1)} ms (software WebGL)`);
  const title = result.job.text.join(' / ');
  if (title.length < 12) check(statSync(join(work, job, 'preview.html')).size < 1.5e6, `${job}: larger than 1.5 MB`);
  await labelled(page, job);
  await modesAndKeys(page, job, result);
  await pixelsAndHover(page, job, result);
  await steps(page, job, result);
  await findings(page, job, result);
  await page.done();
}
await phone(browser, jobs[0]);
await motion(browser, jobs[0]);
await hostile(browser);
await flat(jobs[0], JSON.parse(readFileSync(join(work, jobs[0], 'result.json'), 'utf8')));

const big = await open(browser, 'long'), first = (await big.state()).first;
await press(big, 'r', 'ArrowLeft', 'ArrowLeft', 'ArrowLeft', 'ArrowLeft', 'ArrowLeft');
const letters = await big.locator('h1').textContent();
console.log(`long: ${letters.replace(/[ /]/g, '').length} letters, ${statSync(join(work, 'long', 'preview.html')).size} bytes, first picture ${first.toFixed(0)} ms, frame ${(await big.state()).frame.toFixed(1)} ms (software WebGL)`);
check(letters.replace(/[ /]/g, '').length >= 900, 'long: it is not long');
await big.shot('whole');
await big.done();
await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
