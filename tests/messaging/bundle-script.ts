import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/** Bundles a TypeScript entry of this repository into dist/tests-bundled and gives the path that node can run. */
export async function bundleScript(entry: string, name: string): Promise<string> {
  const outfile = fileURLToPath(new URL(`../../dist/tests-bundled/${name}.mjs`, import.meta.url));
  await build({
    entryPoints: [fileURLToPath(new URL(`../../${entry}`, import.meta.url))],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    logLevel: 'silent',
  });
  return outfile;
}
