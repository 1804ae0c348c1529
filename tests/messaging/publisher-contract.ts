import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import {
  alarmFact,
  callFact,
  desksCall,
  forecastFact,
  readingFact,
  roundFact,
  roundFactOf,
  START_MS,
  wateringFact,
} from './facts.js';
import { type HeardMessage, type Listener, listener } from './listener.js';
import { rememberingLog } from './quiet-log.js';
import { resolveSenml } from './resolve-senml.js';
import type { Stage } from './stages.js';

const ROOT = 'drybell/alder-row';
const at =
  (topic: string, part = '') =>
  (message: HeardMessage) =>
    message.topic === `${ROOT}/${topic}` && message.text.includes(part);

/** What every publisher promises on every broker. */
export function publisherContract(name: string, openStage: () => Promise<Stage>): void {
  describe(`publisher on ${name}`, () => {
    let stage: Stage;
    let folder: string;
    let publisher: Publisher;
    let phone: Listener;
    let wallMs: number;
    let notebook: ReturnType<typeof rememberingLog>;

    const open = () =>
      createPublisher({
        farm: 'alder-row',
        config: messagingSchema.parse({ url: `mqtt://127.0.0.1:${stage.cable.port}`, ...stage.login }),
        drive: 'live',
        timeZone: 'Europe/Berlin',
        dataFolder: folder,
        nowMs: () => START_MS,
        log: notebook.log,
        keepaliveS: 1,
        wallNowMs: () => wallMs,
        random: () => 0,
      });
    const listen = (filters: string[], session?: string) =>
      listener(stage.url, filters, {
        username: stage.login.user,
        password: stage.login.password,
        ...(session === undefined ? {} : { clientId: session, clean: false }),
      });
    const pull = () => {
      stage.cable.pull();
      return vi.waitUntil(() => !publisher.health().ok, { interval: 5, timeout: 10_000 });
    };
    const online = () => phone.next(at('status', '"online":true'));

    beforeEach(async () => {
      wallMs = START_MS;
      notebook = rememberingLog();
      folder = mkdtempSync(join(tmpdir(), 'drybell-outbox-'));
      stage = await openStage();
      publisher = await open();
      phone = await listen([`${ROOT}/#`]);
      await online();
    });

    afterEach(async () => {
      await phone.close();
      await publisher.close();
      await stage.close();
      rmSync(folder, { recursive: true, force: true });
    });

    it("retains an alarm with its state's word, normal included, for whoever subscribes later", async () => {
      await publisher.tell([alarmFact('t1', 'unacknowledged'), alarmFact('t2', 'unacknowledged', 'dry')]);
      await publisher.tell([alarmFact('t1', 'normal')]);
      await phone.next(at('alarm/t1/refill', '"normal"'));
      const late = await listen([`${ROOT}/alarm/#`]);
      const first = await late.next(at('alarm/t1/refill'));
      const second = await late.next(at('alarm/t2/dry'));
      expect([first.retain, second.retain]).toEqual([true, true]);
      expect(JSON.parse(first.text)).toMatchObject({ state: 'normal', tray: 't1', kind: 'refill' });
      expect(JSON.parse(second.text)).toMatchObject({ state: 'unacknowledged', tray: 't2' });
      await late.close();
    });

    it('tells readings as SenML packs at QoS 0, one pack for each probe', async () => {
      await publisher.tell([readingFact('moist-t1', 1.52), readingFact('moist-t2')]);
      const pack = await phone.next(at('reading/moist-t1'));
      const silent = await phone.next(at('reading/moist-t2'));
      expect([pack.qos, pack.retain]).toEqual([0, false]);
      const resolved = resolveSenml(JSON.parse(pack.text), 0);
      expect(resolved.ok && resolved.records).toEqual([
        { n: 'drybell:alder-row:moist-t1:voltage', u: 'V', v: 1.52, t: START_MS / 1000 },
        { n: 'drybell:alder-row:moist-t1:water-content', u: '/', v: 0.48, t: START_MS / 1000 },
        { n: 'drybell:alder-row:moist-t1:flag', v: 1, t: START_MS / 1000 },
        { n: 'drybell:alder-row:moist-t1:calibration', vs: 'moist-t1-1', t: START_MS / 1000 },
      ]);
      expect(JSON.parse(silent.text)[0]).toMatchObject({ n: 'flag', v: 9 });
    });

    it('retains the newest forecast of a tray and the round notice, and says the sentence as plain text', async () => {
      await publisher.tell([
        forecastFact('t1', 0.51),
        forecastFact('t1', 0.5),
        roundFact('Bench south: one tray.'),
      ]);
      await phone.next(at('forecast/t1', '0.5,'));
      expect((await phone.next(at('say'))).text).toBe('Bench south: one tray.');
      const late = await listen([`${ROOT}/forecast/#`, `${ROOT}/round`]);
      expect(JSON.parse((await late.next(at('forecast/t1'))).text)).toMatchObject({
        waterContentM3PerM3: 0.5,
      });
      expect(JSON.parse((await late.next(at('round'))).text)).toMatchObject({
        due: [{ tray: 't1', doseMl: 580 }],
      });
      await late.close();
    });

    it('loses nothing and keeps the order while the broker is away; readings are not told late', async () => {
      await pull();
      await publisher.tell([readingFact('moist-t9')]);
      for (let i = 0; i < 100; i++) await publisher.tell([alarmFact(`t${i}`, 'unacknowledged')]);
      expect(publisher.health().ok).toBe(false);
      stage.cable.mend();
      await phone.next(at('alarm/t99/refill'));
      const trays = phone.heard
        .filter((one) => one.topic.includes('/alarm/'))
        .map((one) => one.topic.split('/')[3]);
      expect([...new Set(trays)]).toEqual(Array.from({ length: 100 }, (_, i) => `t${i}`));
      expect(phone.heard.filter((one) => one.topic.endsWith('/moist-t9'))).toEqual([]);
      expect(publisher.health()).toEqual({ ok: true, reason: 'ok' });
    });

    it('has its outbox when the process ended while the broker was away', async () => {
      await pull();
      await publisher.tell([alarmFact('t1', 'unacknowledged'), callFact(['t1'], 'Tray t1 will not last.')]);
      await publisher.close();
      stage.cable.mend();
      publisher = await open();
      expect(JSON.parse((await phone.next(at('call'))).text)).toMatchObject({ trays: ['t1'], again: false });
      expect(JSON.parse((await phone.next(at('alarm/t1/refill'))).text)).toMatchObject({
        state: 'unacknowledged',
      });
    });

    it('tells a turn once, also after a restart, and the next one', async () => {
      const turn = [alarmFact('t1', 'unacknowledged'), callFact(['t1'], 'Tray t1 will not last.')];
      await publisher.tell(turn, 'a-1');
      await phone.next(at('call'));
      await publisher.close();
      publisher = await open();
      await publisher.tell(turn, 'a-1');
      await publisher.tell([callFact(['t2'], 'Tray t2 will not last.')], 'a-2');
      await phone.next(at('call', 't2'));
      const calls = phone.heard.filter(at('call')).map((one) => JSON.parse(one.text));
      expect(calls.map(({ id, trays }) => [id, trays])).toEqual([
        ['a-1-1', ['t1']],
        ['a-2-0', ['t2']],
      ]);
    });

    it('takes what still stands after a restart, and says it again only where it is news', async () => {
      await publisher.tell([alarmFact('t1', 'unacknowledged'), roundFact('One tray.')]);
      await phone.next(at('round'));
      await publisher.close();
      publisher = await open();
      await publisher.tell([
        alarmFact('t1', 'unacknowledged'),
        alarmFact('t2', 'shelved'),
        roundFact('One tray.'),
      ]);
      await publisher.tell([callFact(['t9'], 'last')]);
      await phone.next(at('call'));
      const ids = phone.heard.filter(at('alarm/t1/refill')).map((one) => JSON.parse(one.text).id);
      expect(new Set(ids).size).toBe(1);
      expect(phone.heard.filter(at('alarm/t2/refill'))).toHaveLength(1);
      expect(phone.heard.filter(at('say', 'One tray.'))).toHaveLength(1);
    });

    it('replaces a call that became untrue while it waited, and never says it', async () => {
      await pull();
      await publisher.tell([alarmFact('t1', 'unacknowledged'), callFact(['t1'], 'Tray t1 will not last.')]);
      await publisher.tell([desksCall(['t2', 't3'])]);
      await publisher.tell([alarmFact('t1', 'normal'), alarmFact('t2', 'acknowledged')]);
      wallMs += 3_600_000;
      stage.cable.mend();
      await phone.next(at('alarm/t2/refill', '"acknowledged"'));
      const calls = phone.heard.filter(at('call')).map((one) => JSON.parse(one.text));
      expect(calls).toMatchObject([{ trays: ['t1'], over: true }, { trays: ['t3'] }]);
      const left =
        'Bench south: t3 may not last until the 18:00 round. Water tray t3 (celery) of minis, about 580 mL.';
      expect(calls[1]).toMatchObject({ sentence: left });
      expect(calls[1]).not.toHaveProperty('said');
      const said = phone.heard.filter(at('say')).map((one) => one.text);
      expect(said).toEqual([`From Sat 07:00, held up at the broker: ${left}`]);
    });

    it('says only the newest of the notices that waited, and keeps all on record', async () => {
      await pull();
      await publisher.tell([roundFact('Morning round.')]);
      await publisher.tell([roundFact('Evening round.', START_MS + 11 * 3_600_000)]);
      stage.cable.mend();
      await phone.next(at('say'));
      await phone.next(at('round', '16:00'));
      expect(phone.heard.filter(at('say')).map((one) => one.text)).toEqual(['Evening round.']);
      expect(phone.heard.filter(at('round'))).toHaveLength(2);
    });

    it('says a notice that waited without the trays that were watered since, and keeps it on record as it was', async () => {
      await pull();
      await publisher.tell([roundFactOf(['t1', 't2'])]);
      await publisher.tell([wateringFact('t1')]);
      stage.cable.mend();
      const { text } = await phone.next(at('say'));
      expect(text).toMatch(/^Bench south, 08:15 round: water tray t2 of minis, about 580 mL\./);
      const record = await phone.next(at('round'));
      expect(JSON.parse(record.text).due).toHaveLength(2);
    });

    it('tells the retained state again to a broker that lost its memory, and to no other', async () => {
      const checks = () => notebook.events.filter((one) => one.event === 'retained-checked');
      const checked = (count: number) =>
        vi.waitUntil(() => checks().length >= count, { interval: 5, timeout: 10_000 });
      await checked(1);
      await publisher.tell([alarmFact('t1', 'unacknowledged'), roundFact('One tray.'), forecastFact('t1')]);
      await phone.next(at('alarm/t1/refill'));
      stage.cable.pull();
      stage.cable.mend();
      await checked(2);
      expect(checks().map((one) => one.fields)).toEqual([{ repaired: 0 }, { repaired: 0 }]);
      const ids = phone.heard.filter(at('alarm/t1/refill')).map((one) => JSON.parse(one.text).id);
      expect(new Set(ids).size).toBe(1);
      await stage.loseMemory();
      const late = await listen([`${ROOT}/#`]);
      const again = await late.next(at('alarm/t1/refill'));
      await late.next(at('round'));
      await late.next(at('forecast/t1'));
      expect(JSON.parse(again.text).id).toBe(ids[0]);
      await late.close();
    });

    it('has its last will told when the link dies without a word, and comes back by itself', async () => {
      stage.cable.freeze();
      await phone.next(at('status', '"online":false'));
      expect(phone.heard.filter(at('status', '"online":false'))[0]?.text).toContain('Look at it');
      const before = phone.heard.length;
      await publisher.tell([alarmFact('t5', 'unacknowledged')]);
      stage.cable.mend();
      await phone.next(at('alarm/t5/refill'));
      await phone.next(
        (message) => phone.heard.indexOf(message) >= before && at('status', '"online":true')(message),
      );
    });

    it('says goodbye in the retained status when it is stopped', async () => {
      await publisher.close();
      const late = await listen([`${ROOT}/status`]);
      expect(JSON.parse((await late.next(at('status'))).text)).toMatchObject({
        online: false,
        sentence: 'The monitor was stopped.',
      });
      await late.close();
      publisher = await open();
    });

    it('brings a call to a phone that was out of reach, when it keeps a session', async () => {
      const first = await listen([`${ROOT}/call`], 'phone-anna');
      await first.close();
      await publisher.tell([callFact(['t1'], 'Tray t1 will not last.')]);
      await phone.next(at('call'));
      const back = await listen([], 'phone-anna');
      expect(JSON.parse((await back.next(at('call'))).text)).toMatchObject({
        sentence: 'Tray t1 will not last.',
      });
      await back.close();
    });

    it('leaves nothing retained of a tray that ended, whatever order facts come in', async () => {
      const ended = { at: '2026-04-18T06:00:00Z', tray: 't1', event: 'ended' } as const;
      await publisher.tell([alarmFact('t1', 'unacknowledged'), alarmFact('t1', 'unacknowledged', 'dry')]);
      await publisher.tell([forecastFact('t1'), forecastFact('t2'), alarmFact('t1', 'normal')]);
      await publisher.tell([{ kind: 'tray-event', event: ended }, alarmFact('t1', 'normal', 'dry')]);
      await phone.next((message) => message.topic === `${ROOT}/forecast/t1` && message.text === '');
      await publisher.tell([callFact(['t2'], 'last')]);
      await phone.next(at('call'));
      const late = await listen([`${ROOT}/forecast/+`, `${ROOT}/alarm/#`]);
      await late.next(at('forecast/t2'));
      expect(late.heard.map((one) => one.topic)).toEqual([`${ROOT}/forecast/t2`]);
      await late.close();
    });

    it('runs a command once, answers it, and answers a second delivery alike', async () => {
      const run: string[] = [];
      publisher.onCommand((command, ref) => {
        run.push(`${command.do} ${ref}`);
        const answer = { ref, at: '2026-04-18T05:00:00Z', ok: true, code: 'done', sentence: 'Noted.' };
        void publisher.tell([{ kind: 'answer', answer }]);
      });
      phone.send(`${ROOT}/command/a1`, '{"do":"watered","tray":"t1","ml":400}');
      await phone.next(at('reply/a1'));
      phone.send(`${ROOT}/command/a1`, '{"do":"watered","tray":"t1","ml":400}');
      phone.send(`${ROOT}/command`, '{"do":"back","ref":"a2"}');
      expect(JSON.parse((await phone.next(at('reply/a2'))).text)).toMatchObject({
        ok: true,
        sentence: 'Noted.',
      });
      expect(run).toEqual(['watered a1', 'back a2']);
      expect(phone.heard.filter(at('reply/a1'))).toHaveLength(2);
      phone.send(`${ROOT}/command/a1`, '{"do":"end","tray":"t1"}');
      await phone.next(at('reply/a1', 'ref-used'));
      expect(run).toHaveLength(2);
    });

    it('hands over a command again that a crash left unanswered, with the time it came in', async () => {
      phone.send(`${ROOT}/command/a3`, '{"do":"germinated","tray":"t1"}');
      phone.send(`${ROOT}/command/a4`, 'nonsense');
      await phone.next(at('reply/a4'));
      await publisher.close();
      publisher = await open();
      const handed = await new Promise((resolve) =>
        publisher.onCommand((command, ref) => resolve({ ref, ...command })),
      );
      expect(handed).toEqual({ ref: 'a3', do: 'germinated', tray: 't1', at: '2026-04-18T05:00:00Z' });
    });

    it('refuses a bad command with where, what was expected and what to do', async () => {
      const run: unknown[] = [];
      publisher.onCommand((command) => run.push(command));
      const refused = async (ref: string, text: string | Buffer, retain = false) => {
        phone.send(`${ROOT}/command/${ref}`, text, retain);
        return JSON.parse((await phone.next(at(`reply/${ref}`))).text);
      };
      expect(await refused('b1', '{"do":"watered",')).toMatchObject({ ok: false, code: 'not-json' });
      expect(await refused('b2', '[]')).toMatchObject({ code: 'not-an-object' });
      const unknown = await refused('b3', '{"do":"flood"}');
      expect(unknown).toMatchObject({ code: 'bad-command' });
      expect(unknown.sentence).toContain('there is no command "flood"; expected one of new-tray, sown');
      const wrong = await refused('b4', '{"do":"looked","tray":"t/1","level":9,"colour":"red"}');
      expect(wrong.sentence).toContain('"tray": expected 1 to 40 letters');
      expect(wrong.sentence).toContain('"level"');
      expect(wrong.sentence).toContain('colour');
      expect(await refused('b5', Buffer.alloc(200_000, 120))).toMatchObject({ code: 'too-large' });
      expect(await refused('b6', '{"do":"back","ref":"b7"}')).toMatchObject({ code: 'two-refs' });
      phone.send(`${ROOT}/command/no good`, '{"do":"back"}');
      expect(JSON.parse((await phone.next(at('reply/no-good'))).text)).toMatchObject({ code: 'bad-ref' });
      expect(run).toEqual([]);
    });
  });
}
