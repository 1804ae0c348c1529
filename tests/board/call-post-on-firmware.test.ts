import { describe, expect, it } from 'vitest';
import { readyRig } from './virtual/rig.js';

const board = { callPost: { lampPin: 8, buzzerPin: 9, buttonPin: 12 } };

describe('lamp, buzzer and button on a board', () => {
  it('are lit while a call is unacknowledged, and a press acknowledges once', async () => {
    const rig = await readyRig({ board });
    const { uno } = rig.plugged;
    const presses: string[] = [];
    rig.reader.onAcknowledge((boardId) => presses.push(boardId));
    uno.setInput(12, true);
    rig.time.stir(100);
    await rig.time.advance(200);
    expect(uno.isPulledUp(12)).toBe(true);
    await rig.reader.showCall(true);
    await rig.time.advance(20);
    expect([uno.isHigh(8), uno.isHigh(9)]).toEqual([true, true]);
    expect(presses).toEqual([]);

    uno.setInput(12, false);
    rig.time.stir(100);
    await rig.time.advance(200);
    expect(presses).toEqual(['b1']);

    // A write to the lamp's port while the button is held: its pull-up must survive that.
    await rig.reader.showCall(false);
    await rig.time.advance(50);
    expect([uno.isHigh(8), uno.isHigh(9), uno.isPulledUp(12)]).toEqual([false, false, true]);
    uno.setInput(12, true);
    rig.time.stir(100);
    await rig.time.advance(200);
    expect(presses).toEqual(['b1']);
    await rig.close();
  });

  it('light up again when the board comes back during a call, and are dark after close', async () => {
    const rig = await readyRig({ board });
    await rig.reader.showCall(true);
    rig.plugged.unplug();
    await rig.untilState('unplugged', 1_000);
    rig.plugged.plugIn();
    await rig.untilState('ready', 40_000);
    await rig.time.advance(50);
    expect(rig.plugged.uno.isHigh(8)).toBe(true);
    await rig.close();
    expect(rig.plugged.uno.isHigh(8)).toBe(false);
    expect(rig.plugged.uno.isHigh(9)).toBe(false);
  });

  it('light up again after a reset of the board during a call', async () => {
    const rig = await readyRig({ board });
    await rig.reader.showCall(true);
    rig.plugged.reset();
    await rig.time.advance(60_000);
    expect(rig.plugged.uno.isHigh(8)).toBe(true);
    expect(rig.state()).toBe('ready');
    await rig.close();
  });
});
