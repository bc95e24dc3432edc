// The glass in three dimensions, drawn by WebGL at true proportions. It is drawn anew
// only when something changes.
import {
  AdditiveBlending, BackSide, BufferAttribute, BufferGeometry, CanvasTexture, Color, CylinderGeometry, DataTexture, FrontSide, Group,
  InstancedMesh, LinearFilter, LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshBasicMaterial, MeshLambertMaterial, AmbientLight, DirectionalLight,
  PerspectiveCamera, PlaneGeometry, Quaternion, Scene, ShaderMaterial, Spherical, Sprite, SpriteMaterial, SRGBColorSpace,
  TorusGeometry, Vector3, WebGLRenderer,
} from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';
import { add, sub, mul, cross, dot, unit } from './vec.js';
import { ELECTRODE, nearest } from './model.js';
import { wallGlow } from './wallglow.js';
import { toScreen } from './colours.js';

const FOV = 28;
const LABEL = 0.019; // the size of a label, a share of the distance
const FAR = 3; // pixels: glass of a long sign that is seen thinner is drawn plainly

// DIRECTIONS are where the eye stands for each view, from the middle of the glass.
export const DIRECTIONS = { front: [0, 0, 1], bench: [0, 0, -1], side: [1, 0, 0.0001], three: [0.55, 0.32, 1] };

export class Scene3 {
  constructor(canvas, model) {
    this.model = model;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, powerPreference: 'low-power' });
    this.renderer.setPixelRatio(Math.min(2, window.devicePixelRatio || 1));
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(FOV, 1, 1, 100000);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.zoomToCursor = true;
    this.controls.addEventListener('change', () => this.ask());
    this.controls.addEventListener('start', () => { this.flight = null; });
    this.scene.add(new AmbientLight(0xffffff, 1.4));
    const sun = new DirectionalLight(0xffffff, 2.0);
    sun.position.set(0.4, 1, 1.2);
    this.scene.add(sun);
    this.glass = new Group();
    this.behind = new Group();
    this.marks = new Group();
    this.scene.add(this.behind, this.glass, this.marks);
    this.pieces = [];
    this.frames = [];
    this.labels = new Map();
    this.background = [0.05, 0.055, 0.07];
    this.still = false;
    this.stands();
  }

  ask() {
    if (this.pending) return;
    this.pending = requestAnimationFrame(() => this.render());
  }

  render() {
    this.pending = null;
    if (this.flight) this.fly1();
    const t = performance.now();
    this.detail();
    if (this.levels) this.part();
    this.renderer.setClearColor(new Color().setRGB(...this.background, SRGBColorSpace));
    this.renderer.render(this.scene, this.camera);
    this.frames.push(performance.now() - t);
    if (this.frames.length > 60) this.frames.shift();
    this.onrender?.();
    if (this.flight) this.ask();
  }

  resize(w, h) {
    this.renderer.setSize(w, h, false);
    this.camera.aspect = w / Math.max(1, h);
    this.camera.updateProjectionMatrix();
    this.ask();
  }

  // show draws pieces of glass. Tone gives {tone, glow, hidden} for a piece and its s.
  show(pieces, tone, { halo = false, ghost = null } = {}) {
    clear(this.glass);
    this.pieces = pieces;
    this.tone = tone;
    const r = this.model.diameter / 2;
    this.tubes = null; // made when it is seen how large it is
    if (halo) this.glass.add(new Mesh(tubesGeometry(pieces.flatMap(litParts), 3.2 * r, 10, tone), haloMaterial()));
    if (ghost) for (const p of ghost) this.glass.add(lineOf(p.pts, 0x8894a0, 0.55));
    this.ask();
  }

  // detail draws glass with as many sides as can be seen, and of a long sign seen small no
  // fittings: a few pixels are not worth a million triangles.
  detail() {
    const away = this.camera.position.distanceTo(this.controls.target), m = this.model;
    const px = (m.diameter * this.renderer.domElement.clientHeight) / (2 * Math.tan((FOV * Math.PI) / 360) * away);
    const far = m.long && px < FAR, sides = far ? 3 : m.sides;
    this.posts.visible = this.ends.visible = Boolean(this.fittings) && !far;
    if (this.tubes?.sides === sides || !this.pieces.length) return;
    if (this.tubes) {
      this.glass.remove(this.tubes.mesh);
      this.tubes.mesh.geometry.dispose();
      this.tubes.mesh.material.dispose();
    }
    this.tubes = { sides, mesh: new Mesh(tubesGeometry(this.pieces, m.diameter / 2, sides, this.tone), glassMaterial()) };
    this.glass.add(this.tubes.mesh);
  }

  // stands builds what stands behind the glass: wall, supports, electrodes.
  stands() {
    const m = this.model, d = m.diameter, b = m.bounds, margin = Math.max(160, 0.35 * (b.max[1] - b.min[1]), 0.12 * (b.max[0] - b.min[0]));
    this.rect = { x: b.min[0] - margin, y: b.min[1] - margin, w: b.max[0] - b.min[0] + 2 * margin, h: b.max[1] - b.min[1] + 2 * margin };
    const plane = (z, side, r = this.rect) => {
      const mesh = new Mesh(new PlaneGeometry(r.w, r.h), new MeshBasicMaterial({ side }));
      mesh.position.set(r.x + r.w / 2, r.y + r.h / 2, z);
      return mesh;
    };
    this.wall = plane(m.extra.wallZ, FrontSide);
    this.grid = gridOf(this.rect, m.extra.wallZ + 0.5);
    const bench = { x: this.rect.x - 900, y: this.rect.y - 500, w: this.rect.w + 1800, h: this.rect.h + 1000 };
    this.table = plane(d / 2, BackSide, bench);
    this.tableGrid = gridOf(bench, d / 2 - 0.3);
    this.posts = this.supports();
    this.ends = electrodes(m.units.flatMap((u) => u.data.electrodes), d);
    this.behind.add(this.wall, this.grid, this.table, this.tableGrid, this.posts, this.ends);
  }

  // supports returns posts from the glass to the wall, with a clip about the glass.
  supports() {
    const m = this.model, d = m.diameter, list = m.extra.supports, byID = new Map(m.units.map((u) => [u.id, u.tube]));
    const grey = new MeshLambertMaterial({ color: 0xaab2b8, transparent: true, opacity: 0.55 });
    const post = new CylinderGeometry(0.22 * d, 0.3 * d, 1, m.sides).rotateX(Math.PI / 2), clip = new TorusGeometry(0.6 * d, 0.09 * d, 6, Math.min(20, 2 * m.sides));
    const group = new Group(), straight = new Quaternion();
    group.add(instances(post, grey, list.map((s) => {
      const h = s.at[2] - m.extra.wallZ;
      return [[s.at[0], s.at[1], m.extra.wallZ + h / 2 - 0.3 * d], straight, [1, 1, h]];
    })), instances(clip, grey, list.map((s) => {
      const tube = byID.get(s.unit);
      return [s.at, turnTo([0, 0, 1], sub(tube.at(s.s + 0.5), tube.at(s.s - 0.5))), [1, 1, 1]];
    })));
    return group;
  }

  // dress sets the wall: 'lit' with its tone, or plain for the other modes.
  dress(mode, tone, dark) {
    const plain = mode !== 'lit';
    this.wall.material.map?.dispose();
    this.wall.material.map = plain ? null : this.wallTexture(tone);
    this.wall.material.color.setRGB(...(plain ? (dark ? [0.13, 0.14, 0.165] : [0.90, 0.90, 0.885]) : [1, 1, 1]), SRGBColorSpace);
    this.wall.material.needsUpdate = true;
    this.grid.material.color.setRGB(...(dark ? [0.24, 0.26, 0.29] : [0.80, 0.80, 0.78]), SRGBColorSpace);
    this.tableGrid.material.color.copy(this.grid.material.color);
    this.table.material.color.setRGB(...(dark ? [0.15, 0.16, 0.18] : [0.93, 0.925, 0.90]), SRGBColorSpace);
    this.background = mode === 'steps' ? (dark ? [0.15, 0.16, 0.18] : [0.93, 0.925, 0.90]) : plain ? (dark ? [0.085, 0.095, 0.115] : [0.955, 0.955, 0.945]) : tone === 'light' ? [0.26, 0.265, 0.285] : tone === 'brick' ? [0.145, 0.085, 0.07] : [0.052, 0.056, 0.067];
    this.ask();
  }

  // wallTexture lights the wall, by night.
  wallTexture(tone) {
    this.lit ??= this.glow();
    const { w, h, data } = this.lit, n = 2, W = w * n, H = h * n, out = new Uint8Array(4 * W * H);
    const k = this.rect.w / W, exposure = tone === 'light' ? 5 : 9, sky = [0.085, 0.094, 0.115];
    for (let y = 0; y < H; y++) {
      for (let x = 0; x < W; x++) {
        const albedo = wallAt(tone, this.rect.x + x * k, this.rect.y + y * k), g = 3 * ((y >> 1) * w + (x >> 1)), i = 4 * (y * W + x);
        for (let c = 0; c < 3; c++) out[i + c] = 255 * toScreen(1 - Math.exp(-albedo[c] * (sky[c] + exposure * data[g + c]))) + 0.5 * ((x ^ y) & 1);
        out[i + 3] = 255;
      }
    }
    const t = new DataTexture(out, W, H);
    t.colorSpace = SRGBColorSpace;
    t.minFilter = t.magFilter = LinearFilter;
    t.needsUpdate = true;
    return t;
  }

  glow() {
    const m = this.model, samples = [];
    for (const u of m.units) {
      const step = Math.max(2, this.rect.w / 600);
      for (let s = step / 2; s < u.tube.length; s += step) {
        if (u.tube.role(s) !== 'lit') continue;
        const p = u.tube.at(s);
        samples.push({ x: p[0], y: p[1], rgb: m.lightAt(u, s).rgb, length: step });
      }
    }
    return wallGlow(samples, this.rect, -m.extra.wallZ, m.diameter, 420);
  }

  visible({ wall, table, fittings }) {
    this.wall.visible = wall;
    this.grid.visible = wall && !this.wall.material.map;
    this.table.visible = this.tableGrid.visible = table;
    this.fittings = fittings;
    this.ask();
  }

  // mark shows rings and words at places: {at, along, label, tone, size}.
  mark(list, levels = false) {
    clear(this.marks);
    this.levels = levels;
    const d = this.model.diameter;
    for (const m of list) {
      if (m.along) {
        const ring = new Mesh(new CylinderGeometry(0.53 * d, 0.53 * d, m.width ?? 1.6, 18, 1, true), new MeshBasicMaterial({ color: m.tone }));
        ring.quaternion.setFromUnitVectors(new Vector3(0, 1, 0), new Vector3(...m.along));
        ring.position.set(...m.at);
        this.marks.add(ring);
      }
      if (m.ring) {
        const ring = new Sprite(new SpriteMaterial({ map: this.label('◯', m.tone), depthTest: false, sizeAttenuation: false }));
        ring.scale.setScalar(m.small ? 0.04 : 0.07);
        ring.position.set(...m.at);
        this.marks.add(ring);
      }
      if (m.label) {
        const s = new Sprite(new SpriteMaterial({ map: this.label(m.label, m.tone), depthTest: false, sizeAttenuation: false }));
        s.scale.setScalar(LABEL);
        s.center.set(0.5, m.over ? -0.55 : 0.5);
        s.userData.over = m.over;
        s.position.set(...m.at);
        this.marks.add(s);
      }
    }
    this.ask();
  }

  // part keeps labels beside the glass apart: those that would cover each other stand at
  // different levels.
  part() {
    const size = LABEL / (2 * Math.tan((FOV * Math.PI) / 360)), aspect = this.camera.aspect; // a share of the height
    const list = this.marks.children.filter((c) => c.userData.over).map((s) => ({ s, p: this.project(s.position.toArray()) })).sort((a, b) => a.p[0] - b.p[0]);
    const placed = [];
    for (const { s, p } of list) {
      const free = (level) => placed.every((q) => Math.abs(q[0] - p[0]) * aspect > size * 0.98 || Math.abs(q[1] - (p[1] - level * size)) > size * 0.98);
      let level = 0;
      while (level < 12 && !free(level)) level++;
      placed.push([p[0], p[1] - level * size]);
      s.center.set(0.5, -0.55 - level);
    }
  }

  // label returns a texture of a few characters in a disc, made once.
  label(text, tone) {
    const key = text + tone;
    if (!this.labels.has(key)) this.labels.set(key, labelTexture(text, tone));
    return this.labels.get(key);
  }

  // view puts the eye so that a box is seen from a direction, or without one from where
  // it looks now.
  view(dir, box, quick) {
    const eye = this.camera.position.toArray(), target = this.controls.target.toArray();
    if (this.flight) { // where it flies to is where it looks from
      const s = new Vector3().setFromSpherical(this.flight.to).toArray();
      dir ??= s;
    }
    const c = mul(add(box.min, box.max), 0.5), d = unit(dir ?? sub(eye, target)), size = sub(box.max, box.min);
    const half = Math.tan((FOV * Math.PI) / 360), aspect = this.camera.aspect;
    const right = unit(cross([0, 1, 0], d)), up = cross(d, right);
    const extent = (a) => Math.abs(a[0] * size[0]) / 2 + Math.abs(a[1] * size[1]) / 2 + Math.abs(a[2] * size[2]) / 2;
    const away = Math.max(extent(right) / (half * aspect), extent(up) / half) * 1.22 + extent(d) + 40;
    this.go(add(c, mul(d, away)), c, quick);
  }

  // fly brings one place to the middle, near enough to see a few letters about it.
  fly(at, quick) {
    const eye = this.camera.position.toArray(), target = this.controls.target.toArray(), dir = unit(sub(eye, target));
    this.go(add(at, mul(dir, Math.max(14 * this.model.diameter, 260) / Math.tan((FOV * Math.PI) / 360) / 2)), at, quick);
  }

  go(eye, target, quick) {
    this.flight = null;
    if (quick || this.still) {
      this.camera.position.set(...eye);
      this.controls.target.set(...target);
      this.settle();
      return;
    }
    const from = new Spherical().setFromVector3(this.camera.position.clone().sub(this.controls.target));
    const to = new Spherical().setFromVector3(new Vector3(...sub(eye, target)));
    let turn = to.theta - from.theta;
    turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    this.flight = { t0: performance.now(), from, to, turn, a: this.controls.target.clone(), b: new Vector3(...target) };
    this.ask();
  }

  fly1() {
    const f = this.flight, k = Math.min(1, (performance.now() - f.t0) / 450), e = k * k * (3 - 2 * k);
    const s = new Spherical(f.from.radius * Math.pow(f.to.radius / f.from.radius, e), f.from.phi + (f.to.phi - f.from.phi) * e, f.from.theta + f.turn * e);
    this.controls.target.lerpVectors(f.a, f.b, e);
    this.camera.position.setFromSpherical(s).add(this.controls.target);
    if (k === 1) this.flight = null;
    this.settle();
  }

  settle() {
    const away = this.camera.position.distanceTo(this.controls.target);
    this.camera.near = Math.max(0.5, away / 200);
    this.camera.far = away * 4 + 20000;
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.ask();
  }

  orbit(dx, dy) {
    const s = new Spherical().setFromVector3(this.camera.position.clone().sub(this.controls.target));
    s.theta -= dx;
    s.phi = Math.min(Math.PI - 0.01, Math.max(0.01, s.phi - dy));
    this.flight = null;
    this.camera.position.setFromSpherical(s).add(this.controls.target);
    this.settle();
  }

  pan(dx, dy) {
    const away = this.camera.position.distanceTo(this.controls.target) * Math.tan((FOV * Math.PI) / 360) * 2;
    const q = this.camera.quaternion, v = new Vector3(dx * away, dy * away, 0).applyQuaternion(q);
    this.flight = null;
    this.camera.position.add(v);
    this.controls.target.add(v);
    this.settle();
  }

  zoom(k) {
    this.flight = null;
    this.camera.position.sub(this.controls.target).multiplyScalar(k).add(this.controls.target);
    this.settle();
  }

  // pick returns the glass at a place of the canvas, in shares of its size.
  pick(x, y) {
    this.camera.updateMatrixWorld();
    const far = new Vector3(2 * x - 1, 1 - 2 * y, 0.5).unproject(this.camera), o = this.camera.position;
    const d = unit(sub(far.toArray(), o.toArray()));
    const away = o.distanceTo(this.controls.target), px = (2 * Math.tan((FOV * Math.PI) / 360) * away) / Math.max(1, this.renderer.domElement.clientHeight);
    return nearest(this.pieces, o.toArray(), d, this.model.diameter / 2, 7 * px);
  }

  // project returns where a place is on the canvas, in shares of its size.
  project(p) {
    this.camera.updateMatrixWorld();
    const v = new Vector3(...p).project(this.camera);
    return [(v.x + 1) / 2, (1 - v.y) / 2];
  }
}

function clear(group) {
  for (const c of [...group.children]) {
    group.remove(c);
    c.geometry?.dispose();
    if (!c.isSprite) c.material?.dispose();
  }
}

// litParts cuts a piece to its lit stretches.
function litParts(p) {
  const out = [], role = (i) => p.unit.tube.role((p.at[i - 1] + p.at[i]) / 2);
  let part = null;
  for (let i = 1; i < p.pts.length; i++) {
    if (role(i) !== 'lit') { part = null; continue; }
    if (!part) out.push((part = { ...p, pts: [p.pts[i - 1]], at: [p.at[i - 1]] }));
    part.pts.push(p.pts[i]);
    part.at.push(p.at[i]);
  }
  return out;
}

// tubesGeometry sweeps a circle along every piece, its frame carried without rolling.
// All pieces are one geometry: a sign of a thousand letters is then drawn in one go.
function tubesGeometry(pieces, r, sides, tone) {
  const lines = pieces.map((p) => ({ p, ...fine(p) })), v = sides + 1;
  const rings = lines.reduce((n, l) => n + l.pts.length, 0), quads = lines.reduce((n, l) => n + l.pts.length - 1, 0) * sides;
  const make = () => new Float32Array(3 * rings * v), out = { pos: make(), nor: make(), col: make(), ext: make() };
  const index = new (rings * v > 65535 ? Uint32Array : Uint16Array)(6 * quads), circle = [];
  for (let j = 0; j < v; j++) circle.push([Math.cos((2 * Math.PI * j) / sides), Math.sin((2 * Math.PI * j) / sides)]);
  let ring = 0, q = 0;
  for (const { p, pts, at } of lines) {
    sweep(out, ring * v, p, pts, at, r, circle, tone);
    for (let i = 0; i + 1 < pts.length; i++) {
      for (let j = 0; j < sides; j++) {
        const a = (ring + i) * v + j;
        index[q++] = a; index[q++] = a + 1; index[q++] = a + v;
        index[q++] = a + 1; index[q++] = a + v + 1; index[q++] = a + v;
      }
    }
    ring += pts.length;
  }
  const g = new BufferGeometry();
  for (const [name, array] of [['position', out.pos], ['normal', out.nor], ['tint', out.col], ['ext', out.ext]]) g.setAttribute(name, new BufferAttribute(array, 3));
  g.setIndex(new BufferAttribute(index, 1));
  return g;
}

// sweep writes the rings of one piece from vertex first on.
function sweep(out, first, p, pts, at, r, circle, tone) {
  const n = pts.length;
  let dir = unit(sub(pts[1], pts[0])), side = unit(cross(dir, Math.abs(dir[2]) > 0.9 ? [0, 1, 0] : [0, 0, 1])), o = 3 * first;
  for (let i = 0; i < n; i++) {
    const d = unit(sub(pts[Math.min(n - 1, i + 1)], pts[Math.max(0, i - 1)]));
    if (Number.isFinite(d[0]) && dot(d, d) > 0.5) dir = d;
    side = unit(sub(side, mul(dir, dot(side, dir))));
    const up = cross(dir, side), t = tone(p, i === 0 ? at[0] + 1e-6 : i === n - 1 ? at[n - 1] - 1e-6 : at[i]);
    for (const [c, s] of circle) {
      for (let k = 0; k < 3; k++) {
        out.nor[o + k] = c * side[k] + s * up[k];
        out.pos[o + k] = pts[i][k] + r * out.nor[o + k];
        out.col[o + k] = t.tone[k];
      }
      out.ext[o] = t.glow; out.ext[o + 1] = t.hidden; out.ext[o + 2] = at[i];
      o += 3;
    }
  }
}

// fine doubles the points where the role changes, so that tones meet in a line.
function fine(p) {
  const pts = [], at = [];
  const role = (s) => p.unit.tube.role(s);
  for (let i = 0; i < p.pts.length; i++) {
    const inside = i > 0 && i + 1 < p.pts.length;
    if (inside && role(p.at[i] - 1e-4) !== role(p.at[i] + 1e-4)) {
      const e = 1e-3, back = unit(sub(p.pts[i - 1], p.pts[i])), on = unit(sub(p.pts[i + 1], p.pts[i]));
      pts.push(add(p.pts[i], mul(back, e)), add(p.pts[i], mul(on, e)));
      at.push(p.at[i] - e, p.at[i] + e);
      continue;
    }
    pts.push(p.pts[i]);
    at.push(p.at[i]);
  }
  return { pts, at };
}

const VERTEX = `
attribute vec3 tint; attribute vec3 ext;
varying vec3 vTint, vExt, vN, vV;
void main() {
  vec4 p = modelViewMatrix * vec4(position, 1.0);
  vTint = tint; vExt = ext; vN = normalMatrix * normal; vV = -p.xyz;
  gl_Position = projectionMatrix * p;
}`;

function glassMaterial() {
  return new ShaderMaterial({
    vertexShader: VERTEX,
    fragmentShader: `
varying vec3 vTint, vExt, vN, vV;
void main() {
  vec3 n = normalize(vN), v = normalize(vV);
  float facing = abs(dot(n, v));
  float key = 0.5 + 0.5 * dot(n, normalize(vec3(0.35, 0.75, 0.55)));
  float spark = pow(max(dot(n, normalize(v + normalize(vec3(0.35, 0.75, 0.55)))), 0.0), 48.0);
  vec3 body = vTint * (0.50 + 0.62 * key) + 0.22 * spark;
  float stripe = step(0.5, fract(vExt.z / 9.0));
  body *= mix(1.0, vExt.y > 0.75 ? mix(0.40, 0.78, stripe) : 0.72, step(0.25, vExt.y));
  vec3 light = mix(vTint * (0.72 + 0.42 * facing), vec3(1.0, 0.97, 0.93), 0.42 * pow(facing, 2.5));
  gl_FragColor = vec4(mix(body, light, vExt.x), 1.0);
}`,
  });
}

function haloMaterial() {
  return new ShaderMaterial({
    vertexShader: VERTEX,
    fragmentShader: `
varying vec3 vTint, vExt, vN, vV;
void main() {
  float facing = max(dot(normalize(vN), normalize(vV)), 0.0);
  gl_FragColor = vec4(vTint * pow(facing, 3.2) * 0.36, 1.0);
}`,
    blending: AdditiveBlending, depthWrite: false, transparent: true,
  });
}

function lineOf(pts, color, opacity) {
  const g = new BufferGeometry().setFromPoints(pts.flatMap((p, i) => (i ? [new Vector3(...pts[i - 1]), new Vector3(...p)] : [])));
  return new LineSegments(g, new LineBasicMaterial({ color, transparent: true, opacity }));
}

// gridOf is a grid of 100 mm on a plane.
function gridOf(rect, z) {
  const pts = [], step = rect.w > 8000 ? 1000 : 100;
  const x0 = Math.ceil(rect.x / step) * step, y0 = Math.ceil(rect.y / step) * step;
  for (let x = x0; x <= rect.x + rect.w; x += step) pts.push(new Vector3(x, rect.y, z), new Vector3(x, rect.y + rect.h, z));
  for (let y = y0; y <= rect.y + rect.h; y += step) pts.push(new Vector3(rect.x, y, z), new Vector3(rect.x + rect.w, y, z));
  return new LineSegments(new BufferGeometry().setFromPoints(pts), new LineBasicMaterial());
}

// electrodes returns all of them: jacket, shell and lead.
function electrodes(list, d) {
  const group = new Group();
  for (const [radius, length, sides, at, material] of [
    [0.5 * d, ELECTRODE, 16, 0.5, { color: 0xb9c2c6, transparent: true, opacity: 0.32, depthWrite: false }],
    [0.32 * d, 0.5 * ELECTRODE, 14, 0.5, { color: 0x8a8378 }], [0.06 * d, 0.45 * ELECTRODE, 6, 1.05, { color: 0xb08d57 }]]) {
    group.add(instances(new CylinderGeometry(radius, radius, length, sides), new MeshLambertMaterial(material),
      list.map((e) => [add(e.at, mul(e.direction, at * ELECTRODE)), turnTo([0, 1, 0], e.direction), [1, 1, 1]])));
  }
  return group;
}

const turnTo = (from, to) => new Quaternion().setFromUnitVectors(new Vector3(...from), new Vector3(...unit(to)));

// instances draws one body at many places [at, turn, scale] in one go.
function instances(geometry, material, places) {
  const mesh = new InstancedMesh(geometry, material, places.length), m = new Matrix4();
  places.forEach(([at, turn, scale], i) => mesh.setMatrixAt(i, m.compose(new Vector3(...at), turn, new Vector3(...scale))));
  return mesh;
}

function labelTexture(text, tone) {
  const c = document.createElement('canvas'), ctx = c.getContext('2d');
  c.width = c.height = 96;
  if (text === '◯') {
    ctx.strokeStyle = tone;
    ctx.lineWidth = 6;
    ctx.beginPath();
    ctx.arc(48, 48, 42, 0, 2 * Math.PI);
    ctx.stroke();
  } else {
    ctx.fillStyle = '#14171c';
    ctx.beginPath();
    ctx.arc(48, 48, 44, 0, 2 * Math.PI);
    ctx.fill();
    ctx.strokeStyle = tone;
    ctx.lineWidth = 5;
    ctx.stroke();
    ctx.fillStyle = '#ffffff';
    ctx.font = `600 ${text.length > 2 ? 34 : 46}px system-ui, sans-serif`;
    ctx.textAlign = 'center';
    ctx.textBaseline = 'middle';
    ctx.fillText(text, 48, 51);
  }
  const t = new CanvasTexture(c);
  t.colorSpace = SRGBColorSpace;
  return t;
}

// wallAt returns how much light a wall throws back, linear.
function wallAt(tone, x, y) {
  if (tone === 'light') return [0.66, 0.64, 0.60];
  if (tone === 'brick') {
    const row = Math.floor(y / 75), u = x + (row & 1 ? 112.5 : 0), col = Math.floor(u / 225);
    const edge = Math.min(u - col * 225, 225 - u + col * 225, y - row * 75, 75 - y + row * 75) < 5;
    const k = 0.8 + 0.4 * hash(col, row);
    return edge ? [0.155, 0.146, 0.133] : [0.24 * k, 0.085 * k, 0.05 * k];
  }
  return [0.050, 0.052, 0.058];
}

function hash(i, j) {
  let h = Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}
