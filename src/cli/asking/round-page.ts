import pc from 'picocolors';
import { toPourMl } from '../../../shared/facts/pour-amount.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import type { FarmWords } from '../../watering/sentences/words/farm-words.js';
import { columns } from '../terminal/columns.js';
import { columnsOf } from '../terminal/fitted.js';
import { timeLeft } from '../terminal/plain-words.js';

/** Of a printed page; a narrower terminal has its own. */
const PAGE_COLUMNS = 78;
/** Lines of a printed page, and of a tall terminal. */
const PAGE_LINES = 60;
const INDENT = '   ';

export interface RoundPage {
  readonly farm: string;
  readonly notice: RoundNotice;
  /** Present on the farm's clock, epoch ms. */
  readonly nowMs: number;
  readonly words: FarmWords;
}

type Due = RoundNotice['due'][number];

function dose(due: Due, words: FarmWords): string {
  const { doseMl, pourPlan } = due;
  if (pourPlan === undefined) return `about ${words.volume(doseMl)}`;
  const { pours, pourMl, soakMin, shortMl } = pourPlan;
  const rest = shortMl === undefined ? '' : '; will not be full';
  if (pours === 1) return `${words.volume(pourMl)}, soak ${soakMin} min${rest}`;
  return `${words.volume(toPourMl(due) ?? doseMl)} in ${pours} pours of ${words.volume(pourMl)}, ${soakMin} min apart${rest}`;
}

function dueLines(due: Due, { words, nowMs }: RoundPage): string[] {
  const { tray, bench, crop, blockSideMm, hoursToRefill, dryAt, perhapsWatered } = due;
  const what = [crop, blockSideMm === undefined ? undefined : words.blocks(blockSideMm)];
  const name = [pc.bold(tray), what.filter((one) => one !== undefined).join(', ')].join('  ');
  const left = [
    hoursToRefill === undefined ? undefined : `has ${timeLeft(hoursToRefill)}`,
    dryAt === undefined ? undefined : `first blocks dry at ${words.about(Date.parse(dryAt), nowMs)}`,
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

function shortDose({ doseMl, pourPlan }: Due, words: FarmWords): string {
  if (pourPlan === undefined) return `about ${words.volume(doseMl)}`;
  const { pours, pourMl, soakMin } = pourPlan;
  return pours === 1 ? words.volume(pourMl) : `${pours} x ${words.volume(pourMl)}, ${soakMin} min`;
}

/** One line a tray: many are due, and the page is one. */
function shortDueLines(due: readonly Due[], { words }: RoundPage): string[] {
  const isAnyUnsure = due.some(({ perhapsWatered }) => perhapsWatered === true);
  const isShort = ({ pourPlan }: Due): boolean => pourPlan?.shortMl !== undefined;
  const marked = (marks: string): string => (marks === '?' ? ' ?' : marks);
  const rows = due.map((one) => [
    `□ ${one.tray}${marked(`${one.perhapsWatered === true ? '?' : ''}${isShort(one) ? '*' : ''}`)}`,
    one.bench ?? '',
    [one.crop, one.blockSideMm === undefined ? undefined : words.blocks(one.blockSideMm)]
      .filter((text) => text !== undefined)
      .join(', '),
    shortDose(one, words),
    one.hoursToRefill === undefined ? '' : timeLeft(one.hoursToRefill),
  ]);
  return [
    ...columns(rows),
    ...(isAnyUnsure ? [`${pc.yellow('? Perhaps watered already, nobody said: look before pouring.')}`] : []),
    ...(due.some(isShort) ? [pc.dim('* Will not be full after that.')] : []),
  ];
}

/** Trays that wait until the same round in one paragraph. */
function shortWaitLines({ notice, words, nowMs }: RoundPage): string[] {
  const rounds = [...new Set(notice.canWait.map(({ untilRound }) => untilRound))].sort();
  return rounds.flatMap((round) => {
    const trays = notice.canWait.filter(({ untilRound }) => untilRound === round).map(({ tray }) => tray);
    const lines = [`${INDENT}until ${words.time(Date.parse(round), nowMs)}:`];
    trays.forEach((tray, index) => {
      const word = ` ${tray}${index + 1 < trays.length ? ',' : ''}`;
      const line = lines[lines.length - 1] ?? '';
      if (line.length + word.length <= PAGE_COLUMNS) lines[lines.length - 1] = line + word;
      else lines.push(`${INDENT}  ${word}`);
    });
    return lines;
  });
}

function waitLines({ notice, words, nowMs }: RoundPage): string[] {
  return notice.canWait.map(({ tray, untilRound, hoursToRefill }) => {
    const left = hoursToRefill === undefined ? '' : pc.dim(`  has ${timeLeft(hoursToRefill)}`);
    return `${INDENT}${tray}  until ${words.time(Date.parse(untilRound), nowMs)}${left}`;
  });
}

/** The notice of a round as one page for a terminal or a printer, boxes to tick. */
export function roundPage(page: RoundPage): string {
  const lines = pageOf(page, false);
  return (lines.length <= PAGE_LINES ? lines : pageOf(page, true)).join('\n');
}

function pageOf(page: RoundPage, isShort: boolean): readonly string[] {
  const { farm, notice, words, nowMs } = page;
  const title = `Round at ${words.time(Date.parse(notice.round), nowMs)}`;
  const asOf = `as of ${words.time(Date.parse(notice.at), nowMs)}`;
  const width = Math.min(PAGE_COLUMNS, columnsOf(process.stdout));
  const over = Date.parse(notice.round) < nowMs;
  const due = isShort ? shortDueLines(notice.due, page) : notice.due.flatMap((one) => dueLines(one, page));
  const waiting = isShort ? shortWaitLines(page) : waitLines(page);
  return [
    `${pc.bold(title)}${` ${farm}, ${asOf}`.padStart(width - title.length)}`,
    '─'.repeat(width),
    ...(over ? [pc.yellow('This round is over; the next notice comes before the next round.')] : []),
    ...(notice.awayUntil === undefined
      ? []
      : [`Nobody waters until ${words.time(Date.parse(notice.awayUntil), nowMs)}.`]),
    ...(due.length === 0 ? ['Nothing needs water at this round.'] : ['Water, most urgent first', ...due]),
    ...(notice.canWait.length === 0 ? [] : ['', 'Can wait', ...waiting]),
    '',
    pc.dim('Afterwards: drybell round done, or: drybell round done --except TRAY'),
  ];
}
