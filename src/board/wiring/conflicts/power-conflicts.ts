import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import { boardModels } from '../../kit/board-models.js';
import { type BoardProbe, partKey } from '../../kit/hooked-probe.js';
import { buzzerMa, drawMa, lampMa, multiplexerMa } from '../cards/part-facts.js';
import type { Conflict, KitPlace } from './conflict.js';
import { list } from './list.js';

/** What a pin may feed: dividers, milliampere. More pulls its voltage down by 25 to 40 ohm (from memory) and the reading with it. */
const pinFeedMa = 5;

/** True for a part that hangs on the board's 3V3 pin, of a 5 V board. */
function isOnThreeVolts(board: BoardConfig, { hookup }: BoardProbe): boolean {
  return boardModels[board.model].logicVolts === 5 && hookup.supplyVolts === 3.3;
}

/** One of each group of probes that one part serves. */
function partsOf(hung: readonly BoardProbe[]): readonly BoardProbe[] {
  return [...new Map(hung.map((probe) => [partKey(probe.hookup), probe])).values()];
}

const sumMa = (probes: readonly BoardProbe[], volts: number): number =>
  partsOf(probes).reduce((sum, { hookup }) => sum + drawMa(hookup, volts), 0);

/** Analog probes that probe power feeds. */
export function switchedProbes(board: BoardConfig, hung: readonly BoardProbe[]): readonly BoardProbe[] {
  if (board.probePower === undefined) return [];
  return hung.filter((probe) => 'input' in probe.hookup && !isOnThreeVolts(board, probe));
}

/** Milliampere that a board takes from its USB port when everything is on. */
export function boardMa(board: BoardConfig, hung: readonly BoardProbe[]): number {
  const { logicVolts, ownMa } = boardModels[board.model];
  const post = board.callPost;
  return (
    ownMa +
    sumMa(hung, logicVolts) +
    board.multiplexers.length * multiplexerMa +
    (post?.lampPin === undefined ? 0 : lampMa(logicVolts)) +
    (post?.buzzerPin === undefined ? 0 : buzzerMa)
  );
}

/** More than a pin, the board or a USB port gives, and what a pin must not feed at all. */
export function currentConflicts(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  const conflicts: Conflict[] = [];
  const { logicVolts, pinMa, allPinsMa, threeVoltMa } = boardModels[board.model];
  const say = (kind: Conflict['kind'], keys: KitPlace['keys'], problem: string, remedy: string): void => {
    conflicts.push({ kind, boardId: board.id, place: { keys }, problem, remedy });
  };
  const { probePower, callPost } = board;
  const onPin = probePower?.through === 'pin' ? switchedProbes(board, hung) : [];
  const blades = onPin.filter(({ hookup }) => hookup.part === 'capacitive-moisture');
  const dividers = onPin.filter((probe) => !blades.includes(probe));
  const pinFed = sumMa(dividers, logicVolts);
  if (blades.length > 0)
    say(
      'blade-on-a-pin',
      ['probePower', 'through'],
      `pin ${probePower?.pin} feeds ${blades.length === 1 ? 'blade' : 'blades'} ${list(
        blades.map(({ id }) => id),
        'and',
      )}, whose inrush is more than a pin bears and whose draw pulls its voltage down`,
      'build the slow high-side switch of the guide and set probePower "through": "load-switch"',
    );
  if (pinFed > pinFeedMa)
    say(
      'over-pin-current',
      ['probePower', 'through'],
      `the dividers on pin ${probePower?.pin} draw ${pinFed} mA, and a pin feeds ${pinFeedMa} mA at most`,
      'feed them through the slow high-side switch: probePower "through": "load-switch"',
    );
  if (dividers.length > 0 && probePower?.topInput === undefined)
    say(
      'top-not-measured',
      ['probePower'],
      `pin ${probePower?.pin} feeds dividers, and nothing measures how far its voltage falls`,
      'lead the pin through 1 kΩ to a free analog pin and name that as probePower "topInput"',
    );
  const lampNow = callPost?.lampPin === undefined ? 0 : lampMa(logicVolts);
  const buzzerNow = callPost?.buzzerPin === undefined ? 0 : buzzerMa;
  for (const [name, milliamp] of [
    ['lamp', lampNow],
    ['buzzer', buzzerNow],
  ] as const)
    if (milliamp > pinMa)
      say(
        'over-pin-current',
        ['callPost', `${name}Pin`],
        `the ${name} draws ${milliamp} mA, and a pin of a board of model "${board.model}" gives ${pinMa} mA for good`,
        `leave the ${name} away, or take a board of model "uno"`,
      );
  const allPins = lampNow + buzzerNow + pinFed;
  if (allPins > allPinsMa)
    say(
      'over-board-current',
      [],
      `all pins together give ${allPins} mA, and a board of model "${board.model}" bears ${allPinsMa} mA`,
      'feed the dividers through the slow high-side switch',
    );
  const onThree = sumMa(
    hung.filter((probe) => isOnThreeVolts(board, probe)),
    3.3,
  );
  if (threeVoltMa !== undefined && onThree > threeVoltMa)
    say(
      'over-three-volt-current',
      [],
      `the parts on 3V3 draw ${onThree} mA, and that pin gives ${threeVoltMa} mA`,
      'feed those that bear it from 5 V (leave supplyVolts away), or move some to a second board',
    );
  const total = boardMa(board, hung);
  if (total > board.usbBudgetMa)
    say(
      'over-usb-budget',
      ['usbBudgetMa'],
      `board and probes draw ${total} mA, and its USB port may give ${board.usbBudgetMa} mA`,
      'put it on a powered hub and raise usbBudgetMa, or move probes to a second board',
    );
  return conflicts;
}
