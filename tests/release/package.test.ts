import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');

describe('the package', () => {
  let paths: readonly string[];

  beforeAll(() => {
    const packed = execFileSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
      cwd: root,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    const [{ files }] = JSON.parse(packed) as [{ readonly files: readonly { readonly path: string }[] }];
    paths = files.map(({ path }) => path);
  });

  it('holds program, page, contract and guide', () => {
    for (const path of [
      'dist/src/cli/main.js',
      'dist/page/index.html',
      'shared/schemas/farm-config.schema.json',
      'shared/asyncapi.json',
      'shared/CHANGES.md',
      'shared/examples/alder-row.jsonc',
      'hardware/README.md',
      'firmware-notes/README.md',
    ])
      expect(paths).toContain(path);
  });

  it('holds no tests, no sources and no maps', () => {
    const own = paths.filter((path) => !path.startsWith('node_modules/'));
    expect(own.filter((path) => /^(tests|src|dist\/tests)|\.map$|\.tsx?$/.test(path))).toEqual([]);
  });

  it('brings johnny-five with our own serial port in place of the old one that it asks for, which is compiled for minutes', () => {
    const bundled = paths.filter((path) => /(^|\/)serialport\/package\.json$/.test(path));
    expect(bundled).toEqual(['node_modules/serialport/package.json']);
    for (const machine of ['linux-x64', 'linux-arm64', 'darwin-x64+arm64', 'win32-x64'])
      expect(
        paths.filter((path) =>
          path.startsWith(`node_modules/@serialport/bindings-cpp/prebuilds/${machine}/`),
        ),
      ).not.toEqual([]);
  });
});

it('nothing is compiled on the usual machines: SQLite comes with a binary for each', () => {
  for (const machine of ['linux-x64', 'linux-arm64', 'darwin-x64', 'darwin-arm64', 'win32-x64'])
    expect(
      existsSync(
        join(
          root,
          `node_modules/@photostructure/sqlite/prebuilds/${machine}/@photostructure+sqlite.glibc.node`,
        ),
      ),
    ).toBe(true);
});

describe('the command', () => {
  it('runs by its own name, as npx and npm link call it', () => {
    const said = execFileSync(join(root, 'dist/src/cli/main.js'), ['--version'], { encoding: 'utf8' });
    expect(said).toMatch(/\d+\.\d+\.\d+/);
  });
});
