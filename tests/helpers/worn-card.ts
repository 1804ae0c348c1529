import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const run = (command: string, ...words: readonly string[]) =>
  execFileSync(command, words, { stdio: 'ignore' });

/** A card that its file system gives up on: from one moment to the next nothing can be written any more, open files included. */
export class WornCard {
  private constructor(
    private readonly place: string,
    private readonly image: string,
    readonly folder: string,
  ) {}

  /** An ext4 of so many bytes in a file; undefined where this user may not mount one (it takes root and a loop device on Linux). */
  static mount(bytes: number): WornCard | undefined {
    const place = mkdtempSync(join(tmpdir(), 'drybell-card-'));
    const card = new WornCard(place, join(place, 'image'), join(place, 'card'));
    mkdirSync(card.folder);
    try {
      run('truncate', '-s', String(bytes), card.image);
      run('mkfs.ext4', '-q', '-F', card.image);
      card.#mount();
      return card;
    } catch {
      rmSync(place, { recursive: true });
      return undefined;
    }
  }

  #mount(): void {
    run('mount', '-o', 'loop', this.image, this.folder);
  }

  /** What ext4 does after an error of the card (errors=remount-ro). */
  goReadOnly(): void {
    run('mount', '-o', 'remount,abort', this.folder);
  }

  /** Checked and mounted anew, as at a restart of the machine; whoever had files open there must have ended. */
  mend(): void {
    run('umount', this.folder);
    try {
      run('fsck.ext4', '-p', this.image);
    } catch {
      // exit status 1: errors were found and mended, which is what it is for; what it can't mend fails to mount
    }
    this.#mount();
  }

  unmount(): void {
    run('umount', this.folder);
    rmSync(this.place, { recursive: true });
  }
}
