import { Lane } from '../../../host/doors/lane.js';

/** Tokens of one source: messages of a kB each. A gateway with a hundred probes sends under two a second (judgement). */
const OF_A_SOURCE = { burst: 1_000, perS: 200 };
/** Commands of everybody together: a farm tells forty trays in a round; each costs the monitor some 20 ms at the disk (judgement). */
const OF_COMMANDS = { burst: 100, perS: 10 };
const COMMAND_COST = 10;
/** A subscription looks through all retained messages. */
const SUBSCRIPTION_COST = 5;
const BYTES_PER_TOKEN = 1_024;
/** Sources remembered before those that owe nothing are forgotten. */
const MOST_SOURCES = 500;

/**
 * What clients send, each source in a lane of its own, and commands in one more, so that nobody's flood delays the monitor or another's
 * word. Whoever is too fast is not read any further; nothing is lost.
 */
export class Lanes {
  readonly #sources = new Map<string, Lane>();
  readonly #commands: Lane;

  constructor(private readonly monotonicMs: () => number) {
    this.#commands = new Lane(OF_COMMANDS, monotonicMs);
  }

  publish(source: string, bytes: number, isCommand: boolean, go: () => void): void {
    const cost = 1 + bytes / BYTES_PER_TOKEN + (isCommand ? COMMAND_COST : 0);
    this.#of(source).pass(cost, isCommand ? () => this.#commands.pass(1, go) : go);
  }

  subscribe(source: string, go: () => void): void {
    this.#of(source).pass(SUBSCRIPTION_COST, go);
  }

  stop(): void {
    for (const lane of [this.#commands, ...this.#sources.values()]) lane.stop();
  }

  #of(source: string): Lane {
    const known = this.#sources.get(source);
    if (known !== undefined) return known;
    if (this.#sources.size >= MOST_SOURCES)
      for (const [name, lane] of this.#sources) if (lane.isRested()) this.#sources.delete(name);
    const lane = new Lane(OF_A_SOURCE, this.monotonicMs);
    this.#sources.set(source, lane);
    return lane;
  }
}
