import { type ChildProcess, spawn } from 'node:child_process';
import { connect } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const GIVE_UP_MS = 110_000;

interface Heard {
  readonly topic: string;
  readonly payload: string;
}

/** Starts the demo as `npm start` does, listens to its broker, and ends it when everything was heard. */
class DemoRun {
  text = '';
  readonly heard: Heard[] = [];
  private readonly child: ChildProcess;
  readonly exit: Promise<number | null>;

  constructor() {
    this.child = spawn(process.execPath, ['dist/src/cli/main.js', 'demo'], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const keep = (chunk: Buffer): void => {
      this.text += chunk.toString();
    };
    this.child.stdout?.on('data', keep);
    this.child.stderr?.on('data', keep);
    this.exit = new Promise((resolve) => this.child.on('exit', resolve));
  }

  stop(): void {
    this.child.kill('SIGINT');
  }

  kill(): void {
    this.child.kill('SIGKILL');
  }

  /** Waits until `done` is true, or fails with what was printed. */
  async until(what: string, done: () => boolean): Promise<void> {
    const deadline = performance.now() + GIVE_UP_MS;
    while (!done()) {
      if (performance.now() > deadline || this.child.exitCode !== null)
        throw new Error(`the demo never came to: ${what}\n${this.text.slice(-4000)}`);
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }

  alarmStates(): string[] {
    return this.heard
      .filter(({ topic }) => topic.startsWith('drybell/alder-row/alarm/'))
      .map(({ payload }) => String((JSON.parse(payload) as { state: string }).state));
  }
}

describe('the demo, as npm start runs it', () => {
  const demo = new DemoRun();
  const client = { end: () => undefined as unknown };

  beforeAll(async () => {
    await demo.until('its broker', () => /mqtt:\/\/127\.0\.0\.1:\d+/.test(demo.text));
    const address = /mqtt:\/\/127\.0\.0\.1:\d+/.exec(demo.text)?.[0] ?? '';
    const subscriber = connect(address);
    client.end = () => subscriber.end(true);
    subscriber.on('message', (topic, payload) => demo.heard.push({ topic, payload: payload.toString() }));
    await new Promise<void>((resolve, reject) => {
      subscriber.on('connect', () =>
        subscriber.subscribe('drybell/#', (error) => (error ? reject(error) : resolve())),
      );
      subscriber.on('error', reject);
    });
  }, GIVE_UP_MS);

  afterAll(async () => {
    client.end();
    demo.kill();
    await demo.exit;
  });

  it(
    'shows the main job: readings, forecasts, a notice with doses, a call in time, the watering, back to normal',
    async () => {
      const topics = (part: string): boolean => demo.heard.some(({ topic }) => topic.includes(part));
      await demo.until('readings and forecasts', () => topics('/reading/') && topics('/forecast/'));
      await demo.until('a round notice with a dose', () =>
        demo.heard.some(({ topic, payload }) => topic.endsWith('/round') && /"doseMl":[1-9]/.test(payload)),
      );
      await demo.until('an alarm', () => demo.alarmStates().includes('unacknowledged'));
      await demo.until('a watering', () => topics('/watering'));
      await demo.until('an alarm back to normal', () => {
        const states = demo.alarmStates();
        return states.lastIndexOf('normal') > states.indexOf('unacknowledged');
      });
      expect(demo.text).toMatch(/NOTICE .*water/);
      expect(demo.text).toMatch(/CALL /);
      expect(demo.text).toMatch(/watered/);
    },
    2 * GIVE_UP_MS,
  );

  it(
    'ends tidily at Ctrl-C, with its last word retained on the broker until then',
    async () => {
      demo.stop();
      expect(await demo.exit).toBe(0);
      expect(demo.text).not.toMatch(/not-closed|Error/);
      const last = demo.heard.filter(({ topic }) => topic.endsWith('/status')).at(-1);
      expect(last?.payload).toMatch(/"online":false/);
    },
    GIVE_UP_MS,
  );
});
