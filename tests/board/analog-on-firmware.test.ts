import { describe, expect, it } from 'vitest';
import { boardSchema } from '../../shared/config/kit/hookup.js';
import { probeSchema } from '../../shared/config/kit/probes.js';
import { createProbeReader } from '../../src/board/station/probe-reader.js';
import { voltsForCounts } from './virtual/uno.js';
import { PluggedUno } from './virtual/usb-cable.js';
import { VirtualTime } from './virtual/virtual-time.js';

const board = boardSchema.parse({ id: 'b1', sampleCount: 1 });
const probe = probeSchema.parse({
  id: 'moist-t1',
  kind: 'block-moisture',
  hookup: { part: 'capacitive-moisture', board: 'b1', input: 'A2' },
});

describe('johnny-five against StandardFirmata on an emulated Uno', () => {
  it('delivers each of the 1,024 counts exactly', async () => {
    const time = new VirtualTime();
    const plugged = new PluggedUno(time);
    const reader = createProbeReader({
      boards: [board],
      probes: [probe],
      clock: time,
      ioClock: time,
      openTransport: async () => plugged.open(),
      random: () => 0,
    });
    await time.advance(3000);
    expect(reader.health()).toMatchObject([{ state: 'ready' }]);
    const seen: (number | undefined)[] = [];
    let counts = 0;
    plugged.uno.analogV = (channel) => (channel === 2 ? voltsForCounts(counts) : 0);
    for (; counts < 1024; counts++) {
      const [sample] = await time.until(reader.sample(new AbortController().signal));
      seen.push(sample?.counts);
    }
    expect(seen).toEqual(Array.from({ length: 1024 }, (_, index) => index));
    await time.until(reader.close());
  });
});
