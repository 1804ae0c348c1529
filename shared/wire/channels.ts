import type { z } from 'zod';
import { testCallSchema, testReportSchema } from '../base/test-call.js';
import { forecastSchema } from '../facts/forecast.js';
import { statusSchema } from '../facts/status.js';
import { answerSchema, commandSchema } from './command.js';
import {
  alarmMessageSchema,
  askMessageSchema,
  callMessageSchema,
  dryDownMessageSchema,
  noteMessageSchema,
  readingPackSchema,
  roundMessageSchema,
  sayMessageSchema,
  trayEventMessageSchema,
  wateringMessageSchema,
} from './messages.js';
import { farmTopics } from './topics.js';

/** One kind of topic: what is said there, and how. */
export interface Channel {
  /** Name in the AsyncAPI document. */
  readonly name: string;
  /** Topic with `{parameter}` for the levels that vary. */
  readonly address: string;
  readonly title: string;
  readonly description: string;
  /** told: by the monitor. taken: sent by people and programs. */
  readonly direction: 'told' | 'taken';
  readonly qos: 0 | 1;
  readonly retain: boolean;
  readonly contentType: 'application/json' | 'application/senml+json' | 'text/plain';
  readonly schema: z.ZodType;
}

const topics = farmTopics('{farm}');
const json = { direction: 'told', contentType: 'application/json' } as const;
const record = { ...json, qos: 1, retain: false } as const;
const kept = { ...json, qos: 1, retain: true } as const;

/** Every topic of the contract. */
export const channels: readonly Channel[] = [
  {
    ...kept,
    name: 'status',
    address: topics.status,
    title: 'Is the watchman awake?',
    description:
      'Retained; the last will says `online: false`. Watch this: silence of a dead monitor is no good news.',
    schema: statusSchema,
  },
  {
    ...json,
    name: 'reading',
    address: topics.reading('{probe}'),
    title: 'Readings of one probe',
    description:
      'A SenML pack (RFC 8428): raw value, water content where calibrated, QARTOD flag. Told once or not at all: for gaps ask the store.',
    qos: 0,
    retain: false,
    contentType: 'application/senml+json',
    schema: readingPackSchema,
  },
  {
    ...kept,
    name: 'forecast',
    address: topics.forecast('{tray}'),
    title: 'Hours until refill of one tray',
    description: 'Only the newest. Cleared by an empty message when the tray ends.',
    schema: forecastSchema,
  },
  {
    ...kept,
    name: 'alarm',
    address: `${topics.root}/alarm/{of}/{kind}`,
    title: 'State of one alarm',
    description:
      'Every transition in order, in the words of IEC 62682; an alarm that is over stays as "normal". A retained one may be old: look at `at`. Cleared by an empty message when the tray ends.',
    schema: alarmMessageSchema,
  },
  {
    ...record,
    name: 'call',
    address: topics.call,
    title: 'A call to people',
    description: 'Trays of one bench together. Not retained: what is retained of it is the alarm.',
    schema: callMessageSchema,
  },
  {
    ...kept,
    name: 'round',
    address: topics.round,
    title: 'Notice of the coming round',
    description: 'What to water and what can wait; before every round, also when nothing is due.',
    schema: roundMessageSchema,
  },
  {
    ...record,
    name: 'ask',
    address: topics.ask,
    title: 'A question to people',
    description: 'Were these trays watered? Answer with the watered command.',
    schema: askMessageSchema,
  },
  {
    ...record,
    name: 'say',
    address: topics.say,
    title: 'The sentence alone',
    description:
      'Every call, notice, question and test call as plain text for a lock screen. One that was held up says when it is from and where; what became untrue meanwhile is not said.',
    contentType: 'text/plain',
    schema: sayMessageSchema,
  },
  {
    ...record,
    name: 'watering',
    address: topics.watering('{tray}'),
    title: 'A watering',
    description: 'Told by people or detected from a probe.',
    schema: wateringMessageSchema,
  },
  {
    ...record,
    name: 'trayEvent',
    address: topics.trayEvent('{tray}'),
    title: 'What happened to a tray',
    description: 'Sown, covered, germinated, moved, potted on, ended and so on.',
    schema: trayEventMessageSchema,
  },
  {
    ...record,
    name: 'trayEventUndone',
    address: topics.trayEventUndone('{tray}'),
    title: 'An event of a tray struck out',
    description: 'The event as it was told before; it counts no more.',
    schema: trayEventMessageSchema,
  },
  {
    ...record,
    name: 'dryDown',
    address: topics.dryDown('{tray}'),
    title: 'A finished dry-down',
    description: 'One fall of the water content from a watering to the next.',
    schema: dryDownMessageSchema,
  },
  {
    ...record,
    name: 'note',
    address: topics.note,
    title: 'A note',
    description: 'What somebody wrote down; once more with `undone` when it was taken back.',
    schema: noteMessageSchema,
  },
  {
    ...record,
    name: 'testCall',
    address: topics.testCall,
    title: 'A test call',
    description:
      'Nothing is wrong: somebody wants to know whether calls arrive. Send back what stands in `answer`. One that waited for ten minutes is not sent any more.',
    schema: testCallSchema,
  },
  {
    ...record,
    name: 'testReport',
    address: topics.testReport('{test}'),
    title: 'How far a test call has come',
    description: 'For whoever asked for it: sent, handed over or seen, by each way, and after how long.',
    schema: testReportSchema,
  },
  {
    ...record,
    name: 'commandWithRef',
    address: topics.commandRef('{ref}'),
    title: 'A command with a ref',
    description:
      'The sender chooses a new ref for every command; the answer comes at reply/{ref}. Delivered twice it runs once.',
    direction: 'taken',
    schema: commandSchema,
  },
  {
    ...record,
    name: 'command',
    address: topics.command,
    title: 'A command without a ref',
    description:
      'For buttons that always send the same: the monitor chooses a ref. The answer comes at reply/{ref} all the same.',
    direction: 'taken',
    schema: commandSchema,
  },
  {
    ...record,
    name: 'reply',
    address: topics.reply('{ref}'),
    title: 'The answer to a command',
    description: 'What was done, or why not and what to do.',
    schema: answerSchema,
  },
];
