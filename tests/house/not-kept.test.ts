import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { spokenAnswer } from '../../src/watering/sentences/spoken.js';
import { english, inWords } from '../helpers/in-words.js';
import { hasDisks, mountDisk } from '../helpers/size-limited-disk.js';
import { closeAll, openOn, START_MS } from './small-house.js';

afterEach(closeAll);

describe.skipIf(!hasDisks())(
  'what is answered "done" (on a mounted disk; skipped: needs root on Linux)',
  () => {
    it('is on the disk, or the answer says that it is not; and once there is room that it is', async () => {
      const disk = mountDisk(8_000_000);
      if (disk === undefined) throw new Error('no disk');
      try {
        const folder = join(disk.folder, 'data');
        mkdirSync(folder);
        const { house, publisher } = await openOn(folder, START_MS);
        const kept = await house.feed.command({ do: 'note', text: 'vents open' });
        expect(kept).toMatchObject({ ok: true });
        expect(kept.kept).toBeUndefined();
        disk.fill();
        const told = [];
        for (let n = 0; n < 60; n++)
          told.push(await house.feed.command({ do: 'note', text: `${n} ${'x'.repeat(1900)}` }));
        expect(told.at(-1)).toMatchObject({ ok: true, kept: false });
        expect(told.at(-1)?.sentence).toMatch(/Not on the disk yet, which takes nothing/);
        expect((await house.feed.command({ do: 'list-trays' })).kept).toBeUndefined();
        // Published as it was answered.
        const answers = publisher.told.flatMap((fact) =>
          fact.kind === 'answer' ? [spokenAnswer(fact.answer, english)] : [],
        );
        expect(answers.filter((answer) => answer.kept === false)).toEqual(
          told.filter((answer) => answer.kept === false),
        );
        disk.makeRoom();
        expect((await house.feed.command({ do: 'note', text: 'room' })).kept).toBeUndefined();
        await house.feed.command({ do: 'note', text: 'again' });
        const notes = publisher.told.flatMap((fact) =>
          fact.kind === 'note' ? [fact.text ?? inWords(fact.said)] : [],
        );
        expect(notes).toContain('What was answered "not on the disk yet" is on the disk now.');
        await closeAll();
      } finally {
        disk.unmount();
      }
    });
  },
);
