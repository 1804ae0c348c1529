import { useMemo } from 'preact/hooks';
import { MS_PER_MIN } from '../../../../../shared/base/time-units.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { clockOf, useFarmNowMs, useHouse } from '../../house/house.js';
import { trayStandings } from '../../state/tray-standing.js';
import { TellPress } from '../parts/tell-press.js';
import { BenchPlan } from './bench-plan.js';
import { CallCard } from './call-card.js';
import { DueCard } from './due-card.js';
import { useHeldLists } from './held-lists.js';
import { RoundDone } from './round-done.js';
import { RoundHeadline } from './round-headline.js';
import { TestCallCard } from './test-call-card.js';
import { WaitsList } from './waits-list.js';

const CALL_ORDER = [
  'dry',
  'refill',
  'monitor',
  'board',
  'temperature',
  'wet',
  'cover',
  'probe',
  'store',
  'broker',
];

const traysOn = (present: PagePresent, benches: PagePresent['benches']): number =>
  present.trays.filter((tray) => benches.some((bench) => bench.id === tray.bench)).length;

/** Trays in order of urgency, and everything that is told at the bench. */
export function NowView({
  present,
  onOpenTray,
  onNewTray,
}: {
  readonly present: PagePresent;
  readonly onOpenTray: (trayId: string) => void;
  readonly onNewTray: () => void;
}) {
  const { texts } = useHouse();
  // Lines tell hours and minutes: within one minute nothing of them changes, and nothing is to be laid out anew.
  const nowMs = Math.floor(useFarmNowMs() / MS_PER_MIN) * MS_PER_MIN;
  const standings = useMemo(() => trayStandings(present), [present]);
  // A dry tray needs water: its dry call says so, and answers for both.
  const dry = new Set(present.calls.filter((call) => call.kind === 'dry').map((call) => call.tray));
  const { open, waits, calls, testCall } = useHeldLists({
    open: standings.filter((one) => one.standing !== 'waits'),
    waits: standings.filter((one) => one.standing === 'waits'),
    testCall: present.testCall,
    calls: present.calls
      .filter((call) => call.kind !== 'refill' || !dry.has(call.tray))
      .sort(
        (a, b) =>
          Number(a.state !== 'unacknowledged') - Number(b.state !== 'unacknowledged') ||
          CALL_ORDER.indexOf(a.kind) - CALL_ORDER.indexOf(b.kind),
      ),
  });
  const onNotice = open.filter((one) => present.notice?.due.some((due) => due.tray === one.tray.id));
  const unseen = calls.filter((call) => call.state === 'unacknowledged').length;
  const roundMs = present.notice === undefined ? undefined : Date.parse(present.notice.round);
  const dueTitle =
    roundMs !== undefined && roundMs > nowMs
      ? texts.now.dueTitleAt(clockOf(present, texts).when(roundMs, nowMs))
      : texts.now.dueTitle;
  // What is wrong with trays comes before a test of the calls.
  const testCard = <TestCallCard present={present} testCall={testCall} nowMs={nowMs} />;
  return (
    <div class="now">
      <RoundHeadline present={present} standings={standings} nowMs={nowMs} />
      <div class="now-calls">
        {unseen === 0 && testCard}
        {calls.length > 0 && (
          <section aria-labelledby="calls-title">
            <h2 id="calls-title">{texts.now.callsTitle}</h2>
            {unseen > 1 && (
              <TellPress
                wish={{ do: 'acknowledge' }}
                label={texts.call.allSeen(unseen)}
                class="press press-seen press-wide"
                canTell={present.canTell}
              >
                <Icon name="eye" />
                {texts.call.allSeen(unseen)}
              </TellPress>
            )}
            <ul class="calls">
              {calls.map((call) => (
                <CallCard
                  key={`${call.kind} ${call.tray ?? call.bench ?? call.source ?? ''}`}
                  present={present}
                  call={call}
                  nowMs={nowMs}
                />
              ))}
            </ul>
          </section>
        )}
        {unseen > 0 && testCard}
      </div>
      <div class="benches">
        {present.benches.map((bench, index) => (
          <BenchPlan
            key={bench.id}
            present={present}
            benchId={bench.id}
            standings={standings}
            traysAbove={traysOn(present, present.benches.slice(0, index))}
            nowMs={nowMs}
            onOpen={onOpenTray}
          />
        ))}
      </div>
      <div class="now-list">
        {open.length > 0 && (
          <section aria-labelledby="due-title">
            <h2 id="due-title">{dueTitle}</h2>
            <ol class="dues">
              {open.map((standing, index) => (
                <DueCard
                  key={standing.tray.id}
                  present={present}
                  standing={standing}
                  place={index + 1}
                  nowMs={nowMs}
                  onOpen={onOpenTray}
                />
              ))}
            </ol>
          </section>
        )}
        {waits.length > 0 && (
          <section aria-labelledby="waits-title">
            <h2 id="waits-title">{texts.now.waitsTitle}</h2>
            <WaitsList present={present} standings={waits} nowMs={nowMs} onOpen={onOpenTray} />
          </section>
        )}
        {present.trays.length === 0 && (
          <p class="empty">
            {texts.now.noTrays} {texts.now.noTraysHow}
          </p>
        )}
        <button type="button" class="press press-new" disabled={!present.canTell} onClick={onNewTray}>
          <Icon name="plus" />
          {texts.now.newTray}
        </button>
        <p class="legend">{texts.now.legend}</p>
      </div>
      <RoundDone due={onNotice} canTell={present.canTell} />
    </div>
  );
}
