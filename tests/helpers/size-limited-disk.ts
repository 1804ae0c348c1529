import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const BLOCK_BYTES = 4096;

/** A file system of its own with so many bytes, or undefined where this user may not mount one (it takes root on Linux). */
export function mountDisk(bytes: number): SizeLimitedDisk | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${bytes}`, 'tmpfs', folder], { stdio: 'ignore' });
    return new SizeLimitedDisk(folder);
  } catch {
    rmSync(folder, { recursive: true });
    return undefined;
  }
}

/** Real room that really ends. */
export class SizeLimitedDisk {
  constructor(readonly folder: string) {}

  /** Fills what is left to the last block; of that much a file can still be made, but nothing written. */
  fill(): void {
    mkdirSync(join(this.folder, 'fill'), { recursive: true });
    for (let n = readdirSync(join(this.folder, 'fill')).length; ; n++)
      try {
        writeFileSync(join(this.folder, 'fill', String(n)), Buffer.alloc(BLOCK_BYTES));
      } catch (cause) {
        if (cause instanceof Error && 'code' in cause && cause.code === 'ENOSPC') return;
        throw cause;
      }
  }

  makeRoom(): void {
    rmSync(join(this.folder, 'fill'), { recursive: true, force: true });
  }

  unmount(): void {
    execFileSync('umount', [this.folder]);
    rmSync(this.folder, { recursive: true });
  }
}

/** Whether a size-limited disk can be had here; where skips are failures it must. */
export function hasDisks(): boolean {
  const disk = mountDisk(BLOCK_BYTES * 16);
  disk?.unmount();
  if (disk === undefined && process.env['DRYBELL_NO_SKIPS'] === '1')
    throw new Error('a size-limited disk cannot be mounted here, and skips are failures');
  return disk !== undefined;
}
