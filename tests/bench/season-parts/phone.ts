import { connect } from 'mqtt';

/** A phone that hears all of a farm, and keeps nothing but the count of readings. */
export async function listeningPhone(address: string, farm: string) {
  let readingCount = 0;
  const client = connect(address, { reconnectPeriod: 100 });
  client.on('message', (topic, payload) => {
    if (topic.startsWith(`drybell/${farm}/reading/`))
      readingCount += (payload.toString().match(/"n":"flag"/g) ?? []).length;
  });
  await client.subscribeAsync(`drybell/${farm}/#`, { qos: 1 });
  return { readingCount: () => readingCount, close: () => client.endAsync() };
}
