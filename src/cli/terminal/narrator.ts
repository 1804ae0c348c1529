import pc from 'picocolors';
import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { Forecast } from '../../../shared/facts/forecast.js';
import { toPourMl } from '../../../shared/facts/pour-amount.js';
import { isBelieved } from '../../../shared/facts/reading-belief.js';
import type { Fact } from '../../monitor/ports/facts.js';
import { type SpokenFact, spokenFact } from '../../monitor/ports/spoken-fact.js';
import type { PageFeed, TrayLevels } from '../../review/feed/page-feed.js';
import type { TrayNow } from '../../watering/desk/watering-desk.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import type { FarmWords } from '../../watering/sentences/words/farm-words.js';
import { timeLeft, waterBar } from './plain-words.js';

const LABEL_WIDTH = 9;

function climateWords(probe: ProbeConfig, value: number, words: FarmWords): string {
  if (probe.kind === 'air-temperature') return words.temperature(value);
  if (probe.kind === 'relative-humidity') return `${value.toFixed(0)} %`;
  return `${Math.round(value).toLocaleString('en')} ${probe.kind === 'light' ? probe.unit : ''}`;
}

type Paint = (text: string) => string;

/** Tells facts in plain lines for a terminal: what happened, and every few hours how the trays stand. */
export class Narrator {
  private readonly time: (atMs: number) => string;
  private readonly words: FarmWords;
  private readonly say: DeskSentences;
  private readonly latest = new Map<string, Forecast>();
  private readonly climate = new Map<string, number>();
  private tableAtMs: number | undefined;
  private readingCount = 0;

  constructor(
    private readonly config: FarmConfig,
    private readonly feed: PageFeed,
    private readonly tableEveryH: number,
  ) {
    this.words = createSpeech({ timeZone: config.timeZone, units: config.units }).words;
    this.time = (atMs) => this.words.weekdayTime(atMs, atMs);
    this.say = createSpeech(config).say;
  }

  /** The lines to print for these facts, in order. */
  lines(facts: readonly Fact[]): readonly string[] {
    return facts
      .flatMap((fact) => this.tell(spokenFact(fact, this.say)))
      .concat(this.alarmLines(facts), this.table(facts));
  }

  /** One line for all alarms of one kind that went into one state at one moment. */
  private alarmLines(facts: readonly Fact[]): readonly string[] {
    const together = new Map<string, { at: string; kind: string; state: string; whom: string[] }>();
    for (const fact of facts) {
      if (fact.kind !== 'alarm') continue;
      const { at, kind, state, tray, bench, source } = fact.transition;
      const key = `${at} ${kind} ${state}`;
      const group = together.get(key) ?? { at, kind, state, whom: [] };
      group.whom.push(tray ?? bench ?? source ?? '');
      together.set(key, group);
    }
    return [...together.values()].flatMap(({ at, kind, state, whom }) =>
      this.line(
        at,
        'alarm',
        state === 'normal' ? pc.green : pc.yellow,
        `${kind} ${whom.join(', ')}: ${state}`,
      ),
    );
  }

  private tell(fact: SpokenFact): readonly string[] {
    switch (fact.kind) {
      case 'reading':
        this.readingCount += 1;
        if (fact.reading.rawValue !== undefined && isBelieved(fact.reading.flag, fact.reading.flagReasons))
          this.climate.set(fact.reading.probeId, fact.reading.rawValue);
        return [];
      case 'forecast':
        this.latest.set(fact.forecast.tray, fact.forecast);
        return [];
      case 'round-notice':
        return this.notice(fact.notice);
      case 'call':
        return this.line(fact.call.at, 'CALL', pc.red, pc.bold(fact.call.sentence));
      case 'watering': {
        const { at, tray, source, ml, askedMl, takenUpMl, amends } = fact.watering;
        if (amends === true && takenUpMl !== undefined)
          return this.line(
            at,
            'took up',
            pc.cyan,
            `${tray}: ${this.words.volume(takenUpMl)}, says its probe`,
          );
        const amount = ml ?? askedMl ?? takenUpMl;
        const filled = source === 'logged' ? ', filled' : '';
        const text = `${tray} watered${amount === undefined ? filled : `, ${this.words.volume(amount)}`}`;
        return this.line(
          at,
          'watered',
          pc.cyan,
          `${text} (${source === 'logged' ? 'told' : 'seen by its probe'})`,
        );
      }
      case 'ask':
        return this.line(fact.at, 'question', pc.magenta, fact.sentence);
      case 'note':
        return this.line(fact.at, 'note', pc.dim, fact.text);
      case 'tray-event':
        return fact.event.event === 'new' || fact.event.event === 'watered'
          ? []
          : this.line(fact.event.at, 'tray', pc.dim, `${fact.event.tray} ${fact.event.event}`);
      default:
        return [];
    }
  }

  private notice(notice: Extract<SpokenFact, { kind: 'round-notice' }>['notice']): readonly string[] {
    const head = this.line(
      notice.at,
      'NOTICE',
      pc.blue,
      pc.bold(notice.sentence ?? `round ${this.time(Date.parse(notice.round))}`),
    );
    const isOneBench = new Set(notice.due.map(({ bench }) => bench)).size < 2;
    const due = notice.due.map((one) => {
      const { tray, bench, doseMl, pourPlan, hoursToRefill } = one;
      const place = isOneBench || bench === undefined ? '' : ` on ${bench}`;
      const pours =
        pourPlan === undefined || pourPlan.pours === 1
          ? ''
          : `, in ${pourPlan.pours} pours of ${this.words.volume(pourPlan.pourMl)}, ${pourPlan.soakMin} min apart${pourPlan.shortMl === undefined ? '' : ', will not be full'}`;
      const left = hoursToRefill === undefined ? '' : `   has ${timeLeft(hoursToRefill)}`;
      return `${' '.repeat(this.indent())}${pc.blue('•')} ${tray}${place}: ${this.words.volume(toPourMl(one) ?? doseMl)}${pours}${pc.dim(left)}`;
    });
    return [...head, ...due];
  }

  private table(facts: readonly Fact[]): readonly string[] {
    const at = facts.findLast((fact) => fact.kind === 'forecast')?.forecast.at;
    if (at === undefined) return [];
    const atMs = Date.parse(at);
    if (this.tableAtMs !== undefined && atMs - this.tableAtMs < this.tableEveryH * MS_PER_HOUR) return [];
    this.tableAtMs = atMs;
    const { trays, levels } = this.feed.present();
    const rows = trays.map((tray) => this.trayRow(tray, levels.get(tray.id)));
    return ['', pc.bold(`${this.time(atMs)}  ${this.weather()}`), ...rows, ''];
  }

  private trayRow(tray: TrayNow, level: TrayLevels | undefined): string {
    const forecast = this.latest.get(tray.id);
    const name = `  ${tray.id.padEnd(12)} ${this.words.side(tray.blockSideMm).padEnd(6)} ${(tray.crop ?? '').slice(0, 12).padEnd(12)}`;
    if (forecast === undefined || level === undefined) return `${name} ${pc.dim('no forecast yet')}`;
    const bar = waterBar(
      forecast.waterContentM3PerM3,
      level.refillPointM3PerM3,
      level.containerCapacityM3PerM3,
    );
    const soon = (forecast.hoursToRefillDriestTenth.p50 ?? Number.POSITIVE_INFINITY) < 4;
    const paint: Paint = soon ? pc.red : pc.green;
    const left = timeLeft(forecast.hoursToRefill).padEnd(22);
    return `${name} ${paint(bar)} ${forecast.waterContentM3PerM3.toFixed(2)}  ${left} ${pc.dim(`driest tenth ${timeLeft(forecast.hoursToRefillDriestTenth)}`)}`;
  }

  private weather(): string {
    const benches = this.config.benches.map(({ id }) => {
      const values = this.config.probes.flatMap((probe) => {
        const value = this.climate.get(probe.id);
        return 'bench' in probe && probe.bench === id && value !== undefined
          ? [climateWords(probe, value, this.words)]
          : [];
      });
      return `${id} ${values.join(', ')}`;
    });
    return pc.dim(`${benches.join('   ')}   ${this.readingCount.toLocaleString('en')} readings so far`);
  }

  private line(at: string, label: string, paint: Paint, text: string): readonly string[] {
    return [`${pc.dim(this.time(Date.parse(at)))}  ${paint(label.padEnd(LABEL_WIDTH))}${text}`];
  }

  private indent(): number {
    return this.time(0).length + 2 + LABEL_WIDTH;
  }
}
