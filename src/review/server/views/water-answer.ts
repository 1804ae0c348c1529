import { byName } from '../../../../shared/base/by-name.js';
import { toInstant } from '../../../../shared/base/ids.js';
import type { WaterAnswer } from '../../../../shared/page/page-review.js';
import { trayAt } from '../../../drying/curves/tray-at.js';
import { waterUse } from '../../../drying/curves/water-use.js';
import type { ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import { wateringsOf } from '../../../monitor/ports/pours-once.js';
import type { FarmCalendar } from './farm-calendar.js';

const MOST_FACTS = 200_000;

/** The Water view: what each tray took on each day. */
export async function waterAnswer(
  queries: ReviewQueries,
  span: Span,
  calendar: FarmCalendar,
): Promise<WaterAnswer> {
  const facts = await queries.facts(['watering'], span, MOST_FACTS);
  const life = await queries.facts(['tray-event'], { fromMs: 0, toMs: span.toMs }, MOST_FACTS);
  const events = life.flatMap((fact) =>
    fact.kind === 'tray-event' && fact.undone !== true ? [fact.event] : [],
  );
  const uses = waterUse(wateringsOf(facts), await queries.dryDownSummaries(span), calendar.dayOf);
  const trays = [...new Set(uses.map((use) => use.trayId))].map((id) => {
    const tray = trayAt(
      events.filter((event) => event.tray === id),
      id,
      span.toMs,
    );
    return {
      id,
      ...(tray.benchId === undefined ? {} : { bench: tray.benchId }),
      ...(tray.blockSideMm === undefined ? {} : { blockSideMm: tray.blockSideMm }),
      ...(tray.crop === undefined ? {} : { crop: tray.crop }),
    };
  });
  return {
    from: toInstant(span.fromMs),
    to: toInstant(span.toMs),
    trays: trays.sort((a, b) => byName(a.id, b.id)),
    days: calendar.days(span.fromMs, span.toMs),
    uses: uses.map(({ trayId, ...use }) => ({ tray: trayId, ...use })),
  };
}
