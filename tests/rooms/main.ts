// Draws the rooms into DEVELOPERS.md; with --check it compares, and fails on drift, on folders that import each other in a circle
// at any depth, on full folders and on rooms without a README.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import ts from 'typescript';
import { drawRooms } from './drawing.js';
import { folderCircles, fullFolders, type Import } from './tree.js';

/** As many files and sub-folders are taken in at a glance (judgement). */
const MOST_ENTRIES = 12;
/** Rooms under src. */
const MOST_ROOMS = 12;
const PAGE = 'DEVELOPERS.md';
const BEGIN = '<!-- rooms: written by npm run rooms -->\n```\n';
const END = '```\n<!-- /rooms -->';

const files = ['src', 'shared'].flatMap((root) =>
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .map((file) => join(root, file).replaceAll('\\', '/'))
    .filter((file) => /\.tsx?$/.test(file)),
);
const known = new Set(files);

function importsOf(file: string): Import[] {
  const { importedFiles } = ts.preProcessFile(readFileSync(file, 'utf8'), true, true);
  return importedFiles.flatMap(({ fileName }) => {
    if (!fileName.startsWith('.')) return [];
    const path = join(dirname(file), fileName).replaceAll('\\', '/');
    const to = [
      path.replace(/\.js$/, '.ts'),
      path.replace(/\.jsx?$/, '.tsx'),
      path.replace(/\.js$/, '.d.ts'),
    ].find((one) => known.has(one));
    return to === undefined ? [] : [{ from: file, to }];
  });
}

const imports = files.flatMap(importsOf);
const roomNames = readdirSync('src', { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name);
const readmeOf = (room: string): string => (room === 'shared' ? 'shared/README.md' : `src/${room}/README.md`);
const all = [...roomNames, 'shared'];
const problems: string[] = [];

for (const room of all)
  if (!existsSync(readmeOf(room)))
    problems.push(`${readmeOf(room)} is missing: what lives there, who calls it.`);
if (roomNames.length > MOST_ROOMS) problems.push(`src has ${roomNames.length} rooms; at most ${MOST_ROOMS}.`);
for (const { folder, rooms, imports: between } of folderCircles(imports))
  problems.push(
    `In ${folder} ${rooms.join(', ')} import each other in a circle:\n${between
      .slice(0, 12)
      .map(({ from, to }) => `    ${from} -> ${to}`)
      .join('\n')}`,
  );

for (const { folder, entries } of fullFolders(files, MOST_ENTRIES))
  problems.push(
    `${folder} has ${entries} files and sub-folders; at most ${MOST_ENTRIES}. Split them by what they do.`,
  );

if (problems.length === 0) {
  // The first sentence below a README's title says what the room holds.
  const holds = (room: string): string =>
    readFileSync(readmeOf(room), 'utf8').split('\n')[2]?.replace(/\.$/, '') ?? '';
  const drawn = drawRooms(
    all.map((name) => ({ name, holds: holds(name) })),
    imports,
  );
  const page = readFileSync(PAGE, 'utf8');
  const begin = page.indexOf(BEGIN);
  const end = page.indexOf(END, begin);
  if (begin < 0 || end < 0) problems.push(`${PAGE} has no place for the drawing of the rooms.`);
  else {
    const now = page.slice(0, begin + BEGIN.length) + drawn + page.slice(end);
    if (now !== page && process.argv.includes('--check'))
      problems.push(`${PAGE} draws other rooms than there are. Run: npm run build && npm run rooms`);
    else if (now !== page) writeFileSync(PAGE, now);
  }
}
for (const problem of problems) console.error(problem);
if (problems.length > 0) process.exitCode = 1;
else
  console.log(
    `${files.length} files in ${all.length} rooms, ${imports.length} imports, no full folder, no circle of folders at any depth.`,
  );
