import type { ProbeTrouble } from '../../../../shared/facts/probe-trouble.js';
import { englishDoubts } from '../../../../shared/facts/probe-verdict.js';
import type { SaidPart } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { list } from './parts.js';

/** Trouble of a probe: what it does now, what it did, what to look at. */
interface TroubleWords {
  readonly now: string;
  readonly past: string;
  readonly remedy: string;
}

const probeTroubles: Readonly<Record<ProbeTrouble, TroubleWords>> = {
  silent: {
    now: englishDoubts.silent,
    past: 'sent nothing',
    remedy: 'Look at its plug and cable.',
  },
  'out-of-range': {
    now: englishDoubts['out-of-range'],
    past: 'read what cannot be',
    remedy: 'Look whether it sits where it should, and whether its cable is whole.',
  },
  'flat-line': {
    now: englishDoubts['flat-line'],
    past: 'was stuck at one value',
    remedy: 'Look whether it sits where it should; unplug it and plug it in again.',
  },
  noisy: {
    now: englishDoubts.noisy,
    past: 'jumped up and down',
    remedy: 'Look for a loose or wet plug.',
  },
};

function probeTrouble(reason: string): TroubleWords {
  return (
    (probeTroubles as Readonly<Record<string, TroubleWords>>)[reason] ?? {
      now: `has not been fit to be trusted (${reason})`,
      past: `was not fit to be trusted (${reason})`,
      remedy: 'Look at its plug and cable.',
    }
  );
}

const boardTroubles: Readonly<Record<string, string>> = {
  silent: 'says nothing: press its reset button',
  unplugged: 'was unplugged or lost power: check its cable and supply',
  'no-board': 'is not found: check its cable',
  'wrong-firmware': 'runs other firmware: load StandardFirmata',
};

/** The monitor's clock is a part of its own: that it was set says nothing about what the monitor sees. */
function isClock({ kind, of }: Pick<SaidPart, 'kind' | 'of'>): boolean {
  return kind === 'monitor' && of === 'clock';
}

/** A part's own sentence as the last one of several: capital letter, full stop. */
function ownSentence(text: string): string {
  const whole = `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
}

/** "Probe moist-t1", "The store". */
export function partName({ kind, of }: SaidPart): string {
  switch (kind) {
    case 'probe':
      return `Probe ${of}`;
    case 'board':
      return `Board ${of}`;
    case 'monitor':
      return isClock({ kind, of }) ? 'The clock' : 'The watchman';
    case 'store':
      return 'The store';
    default:
      return 'The way of calls';
  }
}

/** What is wrong now, since when, and what to do. */
export function partTrouble(words: FarmWords, part: SaidPart, nowMs: number): string {
  const since = `since about ${words.time(part.sinceMs ?? nowMs, nowMs)}`;
  const own = part.ownSentence === undefined ? undefined : ownSentence(part.ownSentence);
  const others = part.others ?? [];
  const names = list([part.of, ...others]);
  switch (part.kind) {
    case 'probe': {
      const { now, remedy } = probeTrouble(part.reason);
      if (others.length > 0)
        return `${others.length + 1} probes, ${names}: each ${now} ${since}. Look at their plugs and cables. Until then the model alone watches what they watched.`;
      const meanwhile =
        part.watches === undefined ? '' : ` Until then the model alone watches ${part.watches}.`;
      return `Probe ${part.of} ${now} ${since}. ${remedy}${meanwhile}`;
    }
    case 'board': {
      const fallback = `Board ${part.of} ${boardTroubles[part.reason] ?? `is not well (${part.reason})`}.`;
      const which = others.length === 0 ? '' : `${others.length + 1} boards are not well: ${names}. `;
      return `${which}${own ?? fallback} No probe on ${others.length === 0 ? 'it' : 'them'} has been read ${since}.`;
    }
    case 'monitor':
      if (own !== undefined) return own;
      if (isClock(part)) return 'The clock of the house was set: look whether it is right.';
      return `The watchman is blind: no probe has sent anything ${since}. Go and look at the trays, then at boards and cables.`;
    case 'store':
      return `The store has not been well ${since}. ${own ?? `Readings wait in memory (${part.reason}); make room on the disk or bring the database back.`}`;
    default:
      return `Calls may not have reached you ${since}. ${own ?? 'They wait here until the broker is back.'}`;
  }
}

/** What was wrong, from when to when. */
export function partPast(words: FarmWords, part: SaidPart, toMs: number): string {
  const span = `from about ${words.time(part.sinceMs ?? toMs, toMs)} to ${words.time(toMs, toMs)}`;
  switch (part.kind) {
    case 'probe':
      return `Probe ${part.of} ${probeTrouble(part.reason).past} ${span}.`;
    case 'board':
      return `Board ${part.of} was away ${span}; no probe on it was read.`;
    case 'monitor':
      if (isClock(part))
        return (
          part.ownSentence ??
          `The clock of the house was set, about ${words.time(part.sinceMs ?? toMs, toMs)}.`
        );
      return `The watchman was blind ${span}: look at the trays.`;
    case 'store':
      return `The store was not well ${span}.`;
    default:
      return `Calls may not have reached you ${span}.`;
  }
}

/** That it is well again. */
export function partWell(part: SaidPart): string {
  switch (part.kind) {
    case 'board':
      return `Board ${part.of} answers again.`;
    case 'monitor':
      return isClock(part) ? 'The clock has gone on steadily since.' : 'The watchman sees again.';
    case 'broker':
      return 'Calls go out again.';
    default:
      return `${partName(part)} is well again.`;
  }
}
