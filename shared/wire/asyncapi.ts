import { z } from 'zod';
import { type Channel, channels } from './channels.js';

type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };
type JsonObject = { readonly [key: string]: Json };

const PARAMETERS: Readonly<Record<string, string>> = {
  farm: "The farm's name in the configuration.",
  probe: 'Id of a probe.',
  tray: 'Id of a tray.',
  of: 'The tray, bench or source that the alarm concerns.',
  kind: 'Kind of the alarm.',
  ref: 'Chosen by the sender, 1 to 40 letters, digits, "-" or "_", new for every command.',
  test: 'Ref of the command that asked for the test call.',
};

const INTRODUCTION = [
  'Drybell watches trays of seedling blocks dry. Everything stands under `drybell/<farm>/`.',
  'MQTT 3.1.1. QoS 1 may deliver a message twice: copies carry the same `id`.',
  'Subscribe with a persistent session (fixed client id, clean session off), or what is told while you are away is lost to you; states that matter are retained.',
].join(' ');

function lifted(schema: Json): Json {
  if (Array.isArray(schema)) return schema.map(lifted);
  if (typeof schema !== 'object' || schema === null) return schema;
  return Object.fromEntries(
    Object.entries(schema).map(([key, value]) => [
      key,
      key === '$ref' && typeof value === 'string'
        ? value.replace('#/definitions/', '#/components/schemas/')
        : lifted(value as Json),
    ]),
  );
}

function schemasOf(channel: Channel): JsonObject {
  const generated = z.toJSONSchema(channel.schema, { target: 'draft-7', io: 'input' });
  return lifted((generated['definitions'] ?? {}) as Json) as JsonObject;
}

function schemaId(channel: Channel): string {
  const id = channel.schema.meta()?.id;
  if (id === undefined) throw new TypeError(`the schema of channel "${channel.name}" has no id`);
  return id;
}

function parametersOf(address: string): JsonObject {
  const names = [...address.matchAll(/\{(\w+)\}/g)].map((match) => match[1] ?? '');
  return Object.fromEntries(names.map((name) => [name, { $ref: `#/components/parameters/${name}` }]));
}

function channelObject({ name, address, title, description }: Channel): JsonObject {
  return {
    address,
    title,
    description,
    parameters: parametersOf(address),
    messages: { [name]: { $ref: `#/components/messages/${name}` } },
  };
}

function operationObject({ name, title, direction, qos, retain }: Channel): JsonObject {
  const channel = `#/channels/${name}`;
  return {
    action: direction === 'told' ? 'send' : 'receive',
    title,
    channel: { $ref: channel },
    messages: [{ $ref: `${channel}/messages/${name}` }],
    bindings: { mqtt: { qos, retain, bindingVersion: '0.2.0' } },
    ...(direction === 'taken'
      ? {
          reply: {
            channel: { $ref: '#/channels/reply' },
            messages: [{ $ref: '#/channels/reply/messages/reply' }],
          },
        }
      : {}),
  };
}

function byName(make: (channel: Channel) => Json, key = (channel: Channel) => channel.name): JsonObject {
  return Object.fromEntries(channels.map((channel) => [key(channel), make(channel)]));
}

/** The AsyncAPI 3.0 document of all topics, made from the same schemas that the monitor checks with. */
export function asyncApiDocument(): JsonObject {
  return {
    asyncapi: '3.0.0',
    info: {
      title: 'Drybell over MQTT',
      version: '1.0.0',
      description: INTRODUCTION,
      license: { name: 'MIT' },
    },
    defaultContentType: 'application/json',
    servers: {
      own: {
        host: '127.0.0.1:1883',
        protocol: 'mqtt',
        protocolVersion: '3.1.1',
        description: 'The broker that the monitor brings; with messaging.url any other.',
      },
    },
    channels: byName(channelObject),
    operations: byName(operationObject, ({ name, direction }) =>
      direction === 'told' ? `tell-${name}` : `take-${name}`,
    ),
    components: {
      parameters: Object.fromEntries(
        Object.entries(PARAMETERS).map(([name, description]) => [name, { description }]),
      ),
      messages: byName((channel) => ({
        name: channel.name,
        title: channel.title,
        contentType: channel.contentType,
        payload: { $ref: `#/components/schemas/${schemaId(channel)}` },
      })),
      schemas: Object.fromEntries(channels.flatMap((channel) => Object.entries(schemasOf(channel)))),
    },
  };
}
