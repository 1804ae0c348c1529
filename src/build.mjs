// Builds dist/ with the TypeScript compiler, and the page's bundle when its room is there.
// `--if-missing` returns at once when dist/ stands already (npm start).
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
if (process.argv.includes('--if-missing') && existsSync(join(root, 'dist/src/cli/main.js'))) process.exit(0);

const tsc = createRequire(import.meta.url).resolve('typescript/bin/tsc');
// What was built last stands beside it, so that only what changed is checked and written again.
const incremental = ['--incremental', '--tsBuildInfoFile', join(root, 'dist/tsconfig.tsbuildinfo')];
const compiled = spawnSync(process.execPath, [tsc, '-p', join(root, 'tsconfig.json'), ...incremental], {
  stdio: 'inherit',
  cwd: root,
});
if (compiled.status !== 0) process.exit(compiled.status ?? 1);

// What was built of a source that has moved or gone would be packed, and imported, for ever.
for (const room of ['src', 'shared', 'tests'])
  for (const entry of readdirSync(join(root, 'dist', room), { recursive: true })) {
    const path = String(entry);
    const source = join(root, room, path.replace(/\.js(\.map)?$/, ''));
    if (/\.js(\.map)?$/.test(path) && !existsSync(`${source}.ts`) && !existsSync(`${source}.tsx`))
      rmSync(join(root, 'dist', room, path));
  }

chmodSync(join(root, 'dist/src/cli/main.js'), 0o755);

const pageBuild = join(root, 'src/review/page/build.mjs');
if (existsSync(pageBuild)) {
  const bundled = spawnSync(process.execPath, [pageBuild], { stdio: 'inherit', cwd: root });
  process.exit(bundled.status ?? 1);
}
