// Bundles the page into dist/page: hashed scripts and styles, index.html that names them. Prints what a first visit weighs.
import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';

const here = dirname(fileURLToPath(import.meta.url));
const out = join(here, '../../../dist/page');
rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });

const result = await build({
  absWorkingDir: here,
  entryPoints: { page: 'main.tsx', style: 'styles/page.css' },
  outdir: out,
  bundle: true,
  splitting: true,
  format: 'esm',
  target: ['es2022', 'safari16'],
  jsx: 'automatic',
  jsxImportSource: 'preact',
  minify: true,
  entryNames: '[name]-[hash]',
  chunkNames: '[name]-[hash]',
  metafile: true,
  legalComments: 'none',
  logLevel: 'warning',
});

const outputs = Object.entries(result.metafile.outputs);
const named = (entry) => {
  const found = outputs.find(([, output]) => output.entryPoint === entry);
  if (found === undefined) throw new Error(`the bundle of ${entry} is missing`);
  return found[0];
};
const script = named('main.tsx');
/** Each language is a file of its own: the house leaves only the farm's in the page that it sends. */
const languageFiles = outputs.flatMap(([file, { entryPoint }]) => {
  const language = /^texts\/([a-z]{2})\/\1\.ts$/.exec(entryPoint ?? '')?.[1];
  return language === undefined ? [] : [{ language, file }];
});
const style = named('styles/page.css');
/** What the first view is made of beside its script: asked for at once, or the phone would learn of it only from the script. */
const pieces = result.metafile.outputs[script].imports
  .filter((one) => one.kind === 'import-statement')
  .map((one) => one.path);
const html = readFileSync(join(here, 'index.html'), 'utf8')
  .replaceAll('@style@', `/${basename(style)}`)
  .replaceAll('@script@', `/${basename(script)}`)
  .replace(
    '@pieces@',
    pieces.map((file) => `<link rel="modulepreload" href="/${basename(file)}">`).join('\n'),
  )
  .replace(
    '@languages@',
    languageFiles
      .map(
        ({ language, file }) =>
          `<link rel="modulepreload" href="/${basename(file)}" data-language="${language}">`,
      )
      .join('\n'),
  );
writeFileSync(join(out, 'index.html'), html);
const COPIED = ['icon.svg', 'drybell.webmanifest', 'drybell.es.webmanifest'];
for (const file of COPIED) copyFileSync(join(here, file), join(out, file));
// The same page with no farm in it, and the worker that keeps it on the phone with everything it loads.
writeFileSync(
  join(out, 'kept.html'),
  html.replace('"@present@"', '"kept"').replaceAll(/<link [^>]*data-language="[^>]*>\n/g, ''),
);
const files = [...outputs.map(([file]) => `/${basename(file)}`), ...COPIED.map((file) => `/${file}`)];
const edition = createHash('sha256').update(files.join()).update(html).digest('hex').slice(0, 12);
const keeper = readFileSync(join(here, 'keeper.js'), 'utf8')
  .replace("'@files@'", JSON.stringify(files))
  .replace('@edition@', edition);
writeFileSync(join(out, 'keeper.js'), keeper);

const weigh = (files) =>
  files.reduce((sum, file) => sum + gzipSync(readFileSync(join(out, basename(file)))).length, 0);
const heaviest = (files) => files.reduce((a, b) => (weigh([a]) > weigh([b]) ? a : b));
const first = weigh([
  'index.html',
  script,
  style,
  ...pieces,
  heaviest(languageFiles.map(({ file }) => file)),
]);
const all = weigh(['index.html', ...outputs.map(([file]) => file)]);
console.log(
  `page: ${(first / 1024).toFixed(1)} kB packed at first, ${(all / 1024).toFixed(1)} kB with every view`,
);
/** A greenhouse's network is slow: what the first view may weigh, packed. */
const MOST_FIRST_KB = 60;
if (first > MOST_FIRST_KB * 1024)
  throw new Error(`the first view weighs ${(first / 1024).toFixed(1)} kB packed; at most ${MOST_FIRST_KB}`);
