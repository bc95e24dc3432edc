// Bundles the page: src/main.js and three.js into one script that needs nothing else.
// The same versions (package-lock.json) give the same bytes; CI builds again and
// compares. usage: node build.mjs [OUT]
import { readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';

const here = new URL('.', import.meta.url);
const licence = readFileSync(new URL('node_modules/three/LICENSE', here), 'utf8').trim();
const version = JSON.parse(readFileSync(new URL('node_modules/three/package.json', here), 'utf8')).version;

const result = await build({
  entryPoints: [new URL('src/main.js', here).pathname],
  bundle: true,
  minify: true,
  format: 'iife',
  target: ['es2020'],
  charset: 'ascii',
  legalComments: 'none',
  write: false,
  absWorkingDir: here.pathname,
});
const banner = `/*! Contains three.js ${version} (threejs.org), under this licence:\n\n${licence}\n*/\n`;
const text = banner + result.outputFiles[0].text;
if (/<\/script|<!--/i.test(text)) throw new Error('the bundle would end its own script element');
writeFileSync(process.argv[2] ?? new URL('bundle.js', here), text);
console.log(`three.js ${version}, ${text.length} bytes`);
