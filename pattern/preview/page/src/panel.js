// The panel beside the glass: views, the heats step by step, units, findings.
import { el, choice } from './dom.js';
import { css } from './colours.js';

export class Panel {
  constructor(root, app) {
    this.app = app;
    this.root = root;
    const m = app.model, job = m.result.job;
    root.append(
      el('header', {},
        el('h1', {}, job.text.join(' / ') || job.name || 'Sign'),
        el('p', { class: 'facts' }, facts(m))),
      this.viewSection(), this.stepSection(), this.unitSection(), this.findingSection(), this.helpSection());
  }

  viewSection() {
    const a = this.app;
    this.views = choice('View', [['front', 'Front', 'F'], ['bench', 'Bench', 'B'], ['side', 'Side', 'S'], ...(a.flat ? [] : [['three', 'Turned', 'T']])], a.view, (v) => a.setView(v));
    this.modes = choice('Glass shown', [['lit', 'Lit', 'L'], ['routing', 'Routing', 'R'], ['depth', 'Depth', 'D']], a.mode, (v) => a.setMode(v));
    this.walls = choice('Wall', [['dark', 'Dark'], ['brick', 'Brick'], ['light', 'Light'], ['none', 'None']], a.wall, (v) => a.setWall(v));
    this.legend = el('div', { class: 'legend' });
    return el('section', { 'aria-labelledby': 'h-view' }, el('h2', { id: 'h-view' }, 'View'),
      row('From', this.views), row('Glass', this.modes), row('Wall', this.walls), this.legend);
  }

  stepSection() {
    const a = this.app;
    this.stepUnit = el('select', { id: 'step-unit', onchange: (e) => a.startSteps(Number(e.target.value)) },
      el('option', { value: '-1' }, 'Whole sign'),
      ...a.model.units.map((u) => el('option', { value: String(u.index) }, `${u.id}: ${u.data.bends.length} heats`)));
    this.slider = el('input', { type: 'range', id: 'step', min: '0', max: '1', step: '0.02', value: '0', 'aria-label': 'Heats made', disabled: true });
    this.slider.addEventListener('input', () => a.setStep(Number(this.slider.value)));
    this.slider.addEventListener('change', () => a.setStep(Number(this.slider.value)));
    this.slider.addEventListener('keydown', (e) => {
      const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[e.key];
      if (by) { e.preventDefault(); e.stopPropagation(); a.stepBy(by); }
      if (e.key === 'Home' || e.key === 'End') { e.preventDefault(); e.stopPropagation(); a.setStep(e.key === 'Home' ? 0 : a.steps()); }
    });
    const button = (text, label, act) => el('button', { type: 'button', 'aria-label': label, title: label, onclick: act }, text);
    this.play = button('Play', 'Play the heats', () => a.play());
    this.controls = el('div', { class: 'steps', hidden: true },
      el('div', { class: 'transport' }, button('Back', 'One heat back', () => a.stepBy(-1)), this.play, button('On', 'One heat on', () => a.stepBy(1))),
      this.slider);
    this.told = el('div', { class: 'told', 'aria-live': 'polite' });
    return el('section', { class: 'heats', 'aria-labelledby': 'h-steps' }, el('h2', { id: 'h-steps' }, 'Heats, in the planned order'),
      row('Unit', this.stepUnit, 'step-unit'), this.controls, this.told);
  }

  unitSection() {
    const a = this.app;
    const list = el('ul', { class: 'list' }, ...a.model.units.map((u) => el('li', {},
      el('button', { type: 'button', class: 'unit', onclick: () => a.seeUnit(u) },
        swatch(u.tone), el('b', {}, u.id),
        el('span', {}, `${letters(a.model, u)}: ${Math.round(u.tube.length)} mm, lit ${Math.round(u.data.lit_length)}, ${u.data.bends.length} heats`)))));
    this.along = el('input', { type: 'range', min: '0', max: '1000', value: '0', 'aria-label': 'Place along the glass of the chosen unit', disabled: true });
    this.along.addEventListener('input', () => a.probe(Number(this.along.value) / 1000));
    return el('section', { 'aria-labelledby': 'h-units' }, el('h2', { id: 'h-units' }, `Units (${a.model.units.length})`), list,
      el('label', { class: 'row' }, el('span', {}, 'Along'), this.along));
  }

  findingSection() {
    const a = this.app, fs = a.model.findings;
    const item = (f, i) => el('li', {}, el('button', { type: 'button', class: `finding ${f.severity}`, onclick: () => a.seeFinding(i) },
      el('b', {}, f.severity), el('span', {}, f.message), f.remedy ? el('i', {}, f.remedy) : null));
    const list = el('ul', { class: 'list' }, ...fs.slice(0, FIRST).map(item));
    const more = fs.length > FIRST ? el('button', { type: 'button', class: 'more', onclick: () => {
      list.append(...fs.slice(FIRST).map((f, i) => item(f, FIRST + i)));
      more.remove();
    } }, `Show all ${fs.length}`) : null;
    return el('section', { 'aria-labelledby': 'h-findings' }, el('h2', { id: 'h-findings' }, `Findings (${fs.length})`),
      fs.length ? list : el('p', {}, 'None: the pattern keeps every rule it was checked against.'), more);
  }

  helpSection() {
    const keys = [['F B S T', 'front, bench, side, turned'], ['L R D', 'lit, routing, depth'], ['W', 'next wall'], ['arrows', 'turn; with Shift: move'],
      ['+ −', 'nearer, farther'], ['[ ]', 'one heat back, on'], ['Home End', 'straight stick, finished unit'], ['space', 'play, stop'],
      ['N P', 'next, previous finding'], ['U', 'next unit'], [', .', 'along the glass'], ['Esc', 'whole sign']];
    const theme = el('button', { type: 'button', onclick: () => this.app.toggleTheme() }, 'Light or dark page');
    return el('section', {}, el('details', {}, el('summary', {}, 'Keys, and what is shown'),
      el('dl', {}, ...keys.flatMap(([k, v]) => [el('dt', {}, k), el('dd', {}, v)])),
      el('p', {}, 'Drag turns, two fingers or the right button move, the wheel or a pinch goes nearer. Hover or tap on glass to read it. All lengths are millimetres of glass; depth is from the face back. ',
        'Colours are those of the gas and glass as near as a screen can show them. Supports stand where they could; the mounting sheet says where they are drilled.'),
      theme));
  }

  showLegend(app) {
    this.legend.replaceChildren();
    const m = app.model, key = (tone, text, cls = '') => el('span', { class: 'key' }, swatch(tone, cls), text);
    if (app.stepping) this.legend.append(key(m.partTone('still'), 'stays'), key(m.partTone('hot'), 'in the fire'), key(m.partTone('moving'), 'swings'));
    else if (app.mode === 'depth') this.legend.append(el('span', { class: 'key' }, 'face 0'), el('span', { class: 'ramp' }), el('span', { class: 'key' }, `${Math.round(-m.deepest)} mm behind`));
    else if (app.mode === 'routing') this.legend.append(el('span', { class: 'key' }, 'one tone a unit'), key([0.6, 0.6, 0.6], 'striped: hidden run', 'striped'));
    else {
      const seen = new Map();
      for (const u of m.units) for (const l of u.look.lights) seen.set(l.colour, l);
      for (const l of seen.values()) this.legend.append(el('span', { class: 'key' }, swatch(l.screen), l.colour));
    }
  }

  showStep(app, told) {
    this.root.classList.toggle('stepping', Boolean(app.stepping));
    this.stepUnit.value = String(app.stepping ? app.stepping.index : -1);
    this.controls.hidden = this.slider.disabled = !app.stepping;
    this.told.replaceChildren();
    if (!app.stepping) return;
    this.slider.max = String(app.steps());
    this.slider.value = String(app.v);
    this.slider.setAttribute('aria-valuetext', told[0]);
    this.told.append(el('p', { class: 'now' }, told[0]), ...told.slice(1).map((t) => el('p', {}, t)));
  }
}

const FIRST = 60;

const row = (label, control, id) => el('div', { class: 'row' }, id ? el('label', { for: id }, label) : el('span', {}, label), control);

function swatch(tone, cls = '') {
  const s = el('span', { class: `swatch ${cls}`, 'aria-hidden': 'true' });
  s.style.backgroundColor = css(tone);
  return s;
}

function letters(m, u) {
  const seen = new Set(), out = [];
  for (const seg of u.data.path) {
    const s = seg.stroke && m.strokes.get(seg.stroke);
    if (s && !seen.has(s.letter)) { seen.add(s.letter); out.push(s.text); }
  }
  return out.join(' ');
}

function facts(m) {
  const j = m.result.job;
  return [j.font, `${j.height} mm high`, `${m.diameter} mm tube`, `${m.units.length} unit${m.units.length === 1 ? '' : 's'}`].filter(Boolean).join(', ');
}
