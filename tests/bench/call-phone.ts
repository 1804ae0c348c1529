// A phone in a thread of its own, as a grower's is a machine of its own: it says when a call was heard, whatever the house does then.
import { parentPort, workerData } from 'node:worker_threads';
import { connect } from 'mqtt';

/** One call as the phone heard it. */
export interface HeardCall {
  /** `performance.timeOrigin + performance.now()`, ms: the same scale in every thread of a process. */
  readonly atMs: number;
  /** Processor time of the whole process until then, ms. */
  readonly processorMs: number;
}

const { address, topic } = workerData as { readonly address: string; readonly topic: string };
const phone = connect(address);
phone.on('message', () => {
  const { user, system } = process.cpuUsage();
  const heard: HeardCall = {
    atMs: performance.timeOrigin + performance.now(),
    processorMs: (user + system) / 1000,
  };
  parentPort?.postMessage(heard);
});
await phone.subscribeAsync(topic, { qos: 1 });
parentPort?.postMessage('listening');
parentPort?.once('message', () => void phone.endAsync(true).then(() => parentPort?.close()));
