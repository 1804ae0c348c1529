/** A free name made fit to be one level of a topic: letters, digits, `-`, `_`, `.`; the rest becomes `-`. */
export function topicLevel(name: string): string {
  const level = name.replace(/[^A-Za-z0-9_.-]/g, '-');
  return level === '' ? '-' : level;
}

/** Every topic of one farm. Parameters are ids, or sources made fit by `topicLevel`. */
export interface FarmTopics {
  readonly root: string;
  readonly status: string;
  readonly round: string;
  readonly call: string;
  readonly ask: string;
  readonly say: string;
  readonly note: string;
  readonly testCall: string;
  /** Commands whose sender does not choose a ref. */
  readonly command: string;
  reading(probe: string): string;
  forecast(tray: string): string;
  alarm(of: string, kind: string): string;
  watering(tray: string): string;
  trayEvent(tray: string): string;
  trayEventUndone(tray: string): string;
  dryDown(tray: string): string;
  testReport(test: string): string;
  commandRef(ref: string): string;
  reply(ref: string): string;
}

/** The topics of a farm; everything stands under `drybell/<farm>/`. */
export function farmTopics(farm: string): FarmTopics {
  const root = `drybell/${farm}`;
  return {
    root,
    status: `${root}/status`,
    round: `${root}/round`,
    call: `${root}/call`,
    ask: `${root}/ask`,
    say: `${root}/say`,
    note: `${root}/note`,
    testCall: `${root}/test-call`,
    command: `${root}/command`,
    reading: (probe) => `${root}/reading/${probe}`,
    forecast: (tray) => `${root}/forecast/${tray}`,
    alarm: (of, kind) => `${root}/alarm/${topicLevel(of)}/${kind}`,
    watering: (tray) => `${root}/watering/${tray}`,
    trayEvent: (tray) => `${root}/tray/${tray}`,
    trayEventUndone: (tray) => `${root}/tray/${tray}/undone`,
    dryDown: (tray) => `${root}/dry-down/${tray}`,
    testReport: (test) => `${root}/test-call/${test}`,
    commandRef: (ref) => `${root}/command/${ref}`,
    reply: (ref) => `${root}/reply/${ref}`,
  };
}
