import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RunningMonitor } from '../helpers/running-monitor.js';
import { hasDisks, mountDisk } from '../helpers/size-limited-disk.js';
import { listener } from '../messaging/listener.js';

describe.skipIf(!hasDisks())(
  'the first start on a full disk (on a mounted disk; skipped: needs root on Linux)',
  () => {
    it('ends with what to do, and what it left behind keeps no start from going well once there is room', async () => {
      const disk = mountDisk(8_000_000);
      if (disk === undefined) throw new Error('no disk');
      try {
        disk.fill();
        const store = { folder: join(disk.folder, 'data') };
        await expect(RunningMonitor.start({ store })).rejects.toThrow(
          /Cannot open store .*the disk is full; make room/,
        );
        disk.makeRoom();
        const monitor = await RunningMonitor.start({ store });
        const phone = await listener(monitor.broker, ['drybell/alder-row/#']);
        phone.send('drybell/alder-row/command/n1', '{"do":"note","text":"vents open"}');
        const { text } = await phone.next(({ topic }) => topic.endsWith('/reply/n1'));
        expect(JSON.parse(text)).toMatchObject({ ok: true });
        expect(JSON.parse(text)).not.toHaveProperty('kept');
        const status = await phone.next(({ topic }) => topic.endsWith('/status'));
        expect(JSON.parse(status.text)).not.toHaveProperty('troubles');
        await phone.close();
        await monitor.stop();
      } finally {
        disk.unmount();
      }
    });
  },
);
