import type { AlarmKind } from '../../../shared/alarm.js';
import type { DeskSentences, SaidCall, SaidNotice, SaidTransition, SaidTray } from './desk-sentences.js';
import type { FarmWords } from './farm-words.js';

/** A lock screen shows about this many names before it cuts. */
const NAMED_TRAYS = 4;
/** Doses of one size this close to their middle are told as one. */
const SAME_DOSE_SHARE = 0.15;

function list(names: readonly string[]): string {
  if (names.length > NAMED_TRAYS)
    return `${names.slice(0, NAMED_TRAYS - 1).join(', ')} and ${names.length - NAMED_TRAYS + 1} more`;
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

function grouped<T>(items: readonly T[], key: (item: T) => string): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return [...groups.values()];
}

const isAre = (count: number): string => (count === 1 ? 'is' : 'are');
const itThey = (count: number): string => (count === 1 ? 'It' : 'They');
const trayTrays = (count: number): string => (count === 1 ? 'tray' : 'trays');

function mostPours(trays: readonly SaidTray[]): SaidTray | undefined {
  return [...trays].sort((a, b) => (b.pourPlan?.pours ?? 0) - (a.pourPlan?.pours ?? 0))[0];
}

function firstDryAt(trays: readonly SaidTray[]): number | undefined {
  const known = trays.flatMap((tray) => (tray.dryAtMs === undefined ? [] : [tray.dryAtMs]));
  return known.length === 0 ? undefined : Math.min(...known);
}

/** "water 3 trays of minis, about 580 mL each"; trays of one size on one bench. */
function watering(words: FarmWords, trays: readonly SaidTray[]): string {
  const doses = trays.map((tray) => tray.doseMl ?? 0).sort((a, b) => a - b);
  const middle = doses[Math.floor(doses.length / 2)] ?? 0;
  const least = doses[0] ?? 0;
  const most = doses[doses.length - 1] ?? 0;
  const alike = most - least <= 2 * SAME_DOSE_SHARE * middle;
  const each = trays.length === 1 ? '' : ' each';
  const dose = alike
    ? `about ${words.volume(middle)}${each}`
    : `${words.volume(least)} to ${words.volume(most)}${each}`;
  const first = trays[0];
  const what = first === undefined ? '' : words.blocks(first.blockSideMm);
  const one =
    trays.length === 1 && first !== undefined
      ? `tray ${first.id}${first.crop === undefined ? '' : ` (${first.crop})`} of ${what}`
      : `${trays.length} trays of ${what}`;
  return `${one}, ${dose}`;
}

function pouring(words: FarmWords, trays: readonly SaidTray[]): string {
  const plan = mostPours(trays)?.pourPlan;
  if (plan === undefined || plan.pours < 2) return '';
  const who = trays.length === 1 ? '' : `Up to `;
  return ` ${who}${plan.pours} pours of ${words.volume(plan.pourMl)}, ${plan.soakMin} min to soak after each.`;
}

function dryBy(words: FarmWords, trays: readonly SaidTray[], nowMs: number): string {
  const at = firstDryAt(trays);
  if (at === undefined) return '';
  if (at <= nowMs) return trays.length === 1 ? ' It has dry blocks now.' : ' The first have dry blocks now.';
  const subject = trays.length === 1 ? 'It would be dry' : 'They would be dry';
  return ` ${subject} at about ${words.time(at, nowMs)}.`;
}

function roundNotice(words: FarmWords, notice: SaidNotice): string {
  const round = `${words.time(notice.roundMs, notice.nowMs)} round`;
  const away =
    notice.awayUntilMs === undefined
      ? ''
      : ` You are away until ${words.time(notice.awayUntilMs, notice.nowMs)}.`;
  if (notice.due.length === 0) {
    const next = [...notice.waiting].sort((a, b) => a.untilRoundMs - b.untilRoundMs)[0];
    const later =
      next === undefined
        ? ''
        : ` Next: ${notice.waiting.filter((w) => w.untilRoundMs === next.untilRoundMs).length} at ${words.time(next.untilRoundMs, notice.nowMs)}.`;
    return `${round}: nothing to water.${later}${away}`;
  }
  const parts = grouped(notice.due, (tray) => tray.benchId).map((onBench) => {
    const bench = onBench[0]?.benchId ?? '';
    const sizes = grouped(onBench, (tray) => String(tray.blockSideMm));
    const what = sizes.map((trays) => watering(words, trays)).join('; ');
    return `Bench ${bench}, ${round}: water ${what}.${pouring(words, onBench)}${dryBy(words, onBench, notice.nowMs)}`;
  });
  const unsure = notice.due.filter((tray) => tray.perhapsWatered === true).map((tray) => tray.id);
  const look =
    unsure.length === 0
      ? ''
      : ` Look before you pour: nobody said whether ${list(unsure)} ${unsure.length === 1 ? 'was' : 'were'} watered.`;
  return `${parts.join(' ')}${look}${away}`;
}

function trayCall(words: FarmWords, call: SaidCall): string {
  const { trays, nowMs } = call;
  const count = trays.length;
  const benches = grouped(trays, (tray) => tray.benchId);
  const names = list(trays.map((tray) => tray.id));
  if (benches.length > 1) {
    const where = benches.map((onBench) => `${onBench.length} on ${onBench[0]?.benchId}`).join(', ');
    const what =
      call.kind === 'dry'
        ? 'have dry blocks'
        : `will not last until the ${words.time(call.comingRoundMs, nowMs)} round`;
    return `${count} trays ${what}: ${where}. First: ${names}.${dryBy(words, trays, nowMs)}`;
  }
  const where = `Bench ${trays[0]?.benchId ?? call.of}`;
  const sizes = grouped(trays, (tray) => String(tray.blockSideMm));
  const what = sizes.map((same) => watering(words, same)).join('; ');
  const which = count === 1 ? '' : ` Trays: ${names}.`;
  switch (call.kind) {
    case 'dry':
      return `${where}: dry blocks. Water now, in small pours: ${what}.${which}${pouring(words, trays)}`;
    case 'wet':
      return `${where}: ${trayTrays(count)} ${names} ${count === 1 ? 'has' : 'have'} stayed as wet as just watered for too long. Let ${count === 1 ? 'it' : 'them'} dry and give air, or damping-off may come.`;
    case 'cover':
      return call.reason === 'cover-unconfirmed'
        ? `${where}: is the cover still on ${trayTrays(count)} ${names}, and have the seeds germinated? Nobody has said for days.`
        : `${where}: the cover is still on ${trayTrays(count)} ${names}, long after germination. Take it off.`;
    default:
      return call.reason === 'due-not-watered'
        ? `${where}: ${names} ${isAre(count)} due and ${count === 1 ? 'has' : 'have'} not been watered. Water ${what}.${dryBy(words, trays, nowMs)}`
        : `${where}: ${names} will not last until the ${words.time(call.comingRoundMs, nowMs)} round. Water ${what}.${dryBy(words, trays, nowMs)}`;
  }
}

const troubles: Readonly<Record<string, string>> = {
  silent: 'sends nothing',
  'no-answer': 'does not answer',
  'flat-line': 'has not moved for hours',
  'out-of-range': 'reads what cannot be',
  drift: 'has drifted',
  unplugged: 'is unplugged',
  'no-board': 'is not found',
  'wrong-firmware': 'runs other firmware',
};
const remedies: Readonly<Partial<Record<AlarmKind, string>>> = {
  probe: 'Look at its cable and its block; until then its tray is watched by the model alone.',
  board: 'Look at its cable and power; no probe on it is read.',
  monitor: 'Nothing is being watched: go and look at the trays.',
  store: 'Readings wait in memory; free the disk or bring the database back.',
  broker: 'Calls wait here until it is back.',
};
const subjects: Readonly<Partial<Record<AlarmKind, (of: string) => string>>> = {
  probe: (of) => `Probe ${of}`,
  board: (of) => `Board ${of}`,
  monitor: () => 'The watchman',
  store: () => 'The store',
  broker: () => 'The message broker',
};

function healthCall(call: SaidCall): string {
  const trouble = troubles[call.reason] ?? `is not well (${call.reason})`;
  const remedy = remedies[call.kind] ?? '';
  if (call.others.length > 0)
    return `${call.others.length + 1} ${call.kind}s are not well: ${list([call.of, ...call.others])}. ${remedy}`;
  return `${subjects[call.kind]?.(call.of) ?? call.of} ${trouble}. ${remedy}`;
}

function callSentence(words: FarmWords, call: SaidCall): string {
  const again = call.again ? 'Again: ' : '';
  if (call.kind === 'temperature') {
    const reading = call.temperatureC === undefined ? '' : ` (${words.temperature(call.temperatureC)})`;
    return `${again}Bench ${call.of} is too ${call.reason === 'too-cold' ? 'cold' : 'hot'}${reading}.`;
  }
  const said = call.trays.length > 0 ? trayCall(words, call) : healthCall(call);
  return `${again}${said}`;
}

const kindWords: Readonly<Record<AlarmKind, string>> = {
  refill: 'needs water before the round',
  dry: 'dry blocks',
  wet: 'wet for too long',
  cover: 'cover',
  probe: 'probe',
  board: 'board',
  monitor: 'watchman',
  store: 'store',
  broker: 'broker',
  temperature: 'temperature',
};

function transition(words: FarmWords, change: SaidTransition): string {
  const name = `${change.of}: ${kindWords[change.kind]}`;
  const by = change.by === undefined ? '' : ` by ${change.by}`;
  switch (change.state) {
    case 'unacknowledged':
      return `Call. ${name}.`;
    case 'acknowledged':
      return change.reason === 'watered' ? `Seen. ${name}: it was watered.` : `Seen${by}. ${name}.`;
    case 'normal':
      return change.reason === 'watered' ? `Done. ${name}: it was watered.` : `Done. ${name}.`;
    case 'returned-to-normal-unacknowledged':
      return `Over, but nobody has seen it. ${name}.`;
    case 'shelved': {
      const until = change.untilMs === undefined ? '' : ` until ${words.time(change.untilMs, change.nowMs)}`;
      return `Later${until}${by}. ${name}.`;
    }
    case 'suppressed-by-design':
      return `No call for now. ${name}.`;
    case 'out-of-service':
      return `Switched off${by}. ${name}.`;
  }
}

/** The desk's sentences in English. */
export function createEnglish(words: FarmWords): DeskSentences {
  return {
    roundNotice: (notice) => roundNotice(words, notice),
    call: (call) => callSentence(words, call),
    transition: (change) => transition(words, change),
    ask: (trayIds, benchId, roundMs, nowMs) =>
      `Bench ${benchId}: ${isAre(trayIds.length) === 'is' ? 'was' : 'were'} ${list(trayIds)} watered at the ${words.time(roundMs, nowMs)} round? ${itThey(trayIds.length)} ${isAre(trayIds.length)} carried as perhaps watered until you say.`,
  };
}
