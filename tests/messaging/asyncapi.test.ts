import { readFileSync } from 'node:fs';
import { Parser } from '@asyncapi/parser';
import { Ajv, type ValidateFunction } from 'ajv';
import ajvFormats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { channels } from '../../shared/wire/channels.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { FactKind } from '../../src/monitor/ports/facts.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { EVERY_FACT } from './every-fact.js';
import { START_MS } from './facts.js';
import { type HeardMessage, type Listener, listener } from './listener.js';
import { quietLog } from './quiet-log.js';

const text = readFileSync(new URL('../../shared/asyncapi.json', import.meta.url), 'utf8');

interface Document {
  readonly channels: Readonly<Record<string, { readonly address: string }>>;
  readonly operations: Readonly<
    Record<
      string,
      { readonly bindings: { readonly mqtt: { readonly qos: number; readonly retain: boolean } } }
    >
  >;
  readonly components: {
    readonly messages: Readonly<
      Record<string, { readonly contentType: string; readonly payload: { readonly $ref: string } }>
    >;
  };
}
const document = JSON.parse(text) as Document;

const matchers = Object.entries(document.channels).map(([name, { address }]) => ({
  name,
  pattern: new RegExp(`^${address.replace(/\{\w+\}/g, '[^/]+')}$`),
}));

function channelOf(topic: string): string {
  const found = matchers.filter(({ pattern }) => pattern.test(topic)).map(({ name }) => name);
  expect(found, `topic ${topic} belongs to exactly one documented channel`).toHaveLength(1);
  return found[0] ?? '';
}

function validators(): ReadonlyMap<string, ValidateFunction> {
  const ajv = new Ajv({ strict: false, allErrors: true });
  ajvFormats.default(ajv);
  ajv.addSchema(document, 'document');
  return new Map(
    Object.entries(document.components.messages).map(([name, { payload }]) => [
      name,
      ajv.compile({ $ref: `document${payload.$ref}` }),
    ]),
  );
}

describe('shared/asyncapi.json', () => {
  it('is a valid AsyncAPI 3 document for the reference parser', async () => {
    const { document: parsed, diagnostics } = await new Parser().parse(text);
    // Severity 0 is an error, 1 a warning.
    expect(diagnostics.filter((one) => one.severity <= 1)).toEqual([]);
    expect(parsed?.version()).toBe('3.0.0');
    expect(parsed?.channels().all()).toHaveLength(channels.length);
  });
});

describe('what is really published, held against shared/asyncapi.json', () => {
  let publisher: Publisher;
  let everything: Listener;
  const heard: HeardMessage[] = [];

  beforeAll(async () => {
    publisher = await createPublisher({
      farm: 'alder-row',
      config: messagingSchema.parse({ listenPort: 0 }),
      drive: 'live',
      timeZone: 'Europe/Berlin',
      nowMs: () => START_MS,
      log: quietLog,
    });
    everything = await listener(publisher.address(), ['#']);
    const kinds = Object.keys(EVERY_FACT) as FactKind[];
    for (const kind of kinds.filter((one) => one !== 'answer')) await publisher.tell(EVERY_FACT[kind]);
    everything.send('drybell/alder-row/command', '{"do":"away","until":"2026-04-18T19:00:00Z"}');
    everything.send(
      'drybell/alder-row/command/c2',
      '{"do":"pot-on","tray":"t1","toTray":"t9","blockSideMm":51}',
    );
    await everything.next((message) => message.topic.endsWith('/command/c2'));
    await publisher.tell(EVERY_FACT.answer);
    await everything.next((message) => message.topic.endsWith('/reply/a1'));
    heard.push(...everything.heard);
  });

  afterAll(async () => {
    await everything.close();
    await publisher.close();
  });

  it('every message is at a documented topic, with a payload that its schema takes', () => {
    const validate = validators();
    for (const { topic, text: payload } of heard.filter((message) => message.text !== '')) {
      const name = channelOf(topic);
      const check = validate.get(name);
      const isJson = document.components.messages[name]?.contentType !== 'text/plain';
      const value: unknown = isJson ? JSON.parse(payload) : payload;
      expect(check?.(value), `${topic} ${payload} ${JSON.stringify(check?.errors)}`).toBe(true);
    }
  });

  it('every documented channel was heard', () => {
    const names = new Set(heard.map((message) => channelOf(message.topic)));
    expect([...names].sort()).toEqual(Object.keys(document.channels).sort());
  });

  it('only retained channels are cleared, and late subscribers get the retained ones alone', async () => {
    const retained = new Set(
      channels
        .filter((channel) => channel.retain && channel.direction === 'told')
        .map((channel) => channel.name),
    );
    for (const { topic } of heard.filter((message) => message.text === ''))
      expect(retained.has(channelOf(topic))).toBe(true);
    const late = await listener(publisher.address(), ['#']);
    for (const name of retained) await late.next((message) => channelOf(message.topic) === name);
    expect(late.heard.every((message) => message.retain)).toBe(true);
    expect([...new Set(late.heard.map((message) => channelOf(message.topic)))].sort()).toEqual(
      [...retained].sort(),
    );
    await late.close();
  });

  it('the QoS that is documented is the QoS that is used', () => {
    for (const { topic, qos } of heard) {
      const name = channelOf(topic);
      const operation = document.operations[`tell-${name}`] ?? document.operations[`take-${name}`];
      expect([name, qos]).toEqual([name, operation?.bindings.mqtt.qos]);
    }
  });
});
