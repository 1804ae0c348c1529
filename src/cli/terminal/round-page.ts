import pc from 'picocolors';
import type { RoundNotice } from '../../../shared/round-notice.js';
import type { FarmWords } from '../../watering/sentences/farm-words.js';
import { timeLeft } from './plain-words.js';

const WIDTH = 78;
const INDENT = '   ';

export interface RoundPage {
  readonly farm: string;
  readonly notice: RoundNotice;
  /** Present on the farm's clock, epoch ms. */
  readonly nowMs: number;
  readonly words: FarmWords;
}

type Due = RoundNotice['due'][number];

function dose({ doseMl, pourPlan }: Due, words: FarmWords): string {
  const amount = `about ${words.volume(doseMl)}`;
  if (pourPlan === undefined) return amount;
  const { pours, pourMl, soakMin, tipOutMl } = pourPlan;
  const tip = tipOutMl === undefined || tipOutMl <= 0 ? '' : `; tip out about ${words.volume(tipOutMl)}`;
  if (pours === 1) return `${words.volume(pourMl)}, soak ${soakMin} min${tip}`;
  return `${pours} pours of ${words.volume(pourMl)}, ${soakMin} min apart${tip}`;
}

function dueLines(due: Due, { words, nowMs }: RoundPage): string[] {
  const { tray, bench, crop, blockSideMm, hoursToRefill, dryAt, perhapsWatered } = due;
  const what = [crop, blockSideMm === undefined ? undefined : words.blocks(blockSideMm)];
  const name = [pc.bold(tray), what.filter((one) => one !== undefined).join(', ')].join('  ');
  const left = [
    hoursToRefill === undefined ? undefined : `has ${timeLeft(hoursToRefill)}`,
    dryAt === undefined ? undefined : `first blocks dry at about ${words.time(Date.parse(dryAt), nowMs)}`,
  ].filter((one) => one !== undefined);
  return [
    `${INDENT}□ ${name}${bench === undefined ? '' : pc.dim(`  bench ${bench}`)}`,
    `${INDENT}  ${pc.cyan(dose(due, words))}`,
    ...(left.length === 0 ? [] : [`${INDENT}  ${pc.dim(left.join('; '))}`]),
    ...(perhapsWatered === true
      ? [`${INDENT}  ${pc.yellow('Perhaps watered already, nobody said: look before pouring.')}`]
      : []),
  ];
}

function waitLines({ notice, words, nowMs }: RoundPage): string[] {
  return notice.canWait.map(({ tray, untilRound, hoursToRefill }) => {
    const left = hoursToRefill === undefined ? '' : pc.dim(`  has ${timeLeft(hoursToRefill)}`);
    return `${INDENT}${tray}  until ${words.time(Date.parse(untilRound), nowMs)}${left}`;
  });
}

/** The notice of a round as one page for a terminal or a printer, boxes to tick. */
export function roundPage(page: RoundPage): string {
  const { farm, notice, words, nowMs } = page;
  const title = `Round at ${words.time(Date.parse(notice.round), nowMs)}`;
  const asOf = `as of ${words.time(Date.parse(notice.at), nowMs)}`;
  const over = Date.parse(notice.round) < nowMs;
  const due = notice.due.flatMap((one) => dueLines(one, page));
  return [
    `${pc.bold(title)}${`${farm}, ${asOf}`.padStart(WIDTH - title.length)}`,
    '─'.repeat(WIDTH),
    ...(over ? [pc.yellow('This round is over; the next notice comes before the next round.')] : []),
    ...(notice.awayUntil === undefined
      ? []
      : [`Nobody waters until ${words.time(Date.parse(notice.awayUntil), nowMs)}.`]),
    ...(due.length === 0 ? ['Nothing needs water at this round.'] : ['Water, most urgent first', ...due]),
    ...(notice.canWait.length === 0 ? [] : ['', 'Can wait', ...waitLines(page)]),
    '',
    pc.dim('Afterwards: drybell round done, or: drybell round done --except TRAY'),
  ].join('\n');
}
