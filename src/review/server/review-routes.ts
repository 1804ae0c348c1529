import type { House } from './house/house.js';
import { Refusal } from './http/respond.js';
import { askedCount, askedInstant, askedSpan } from './views/asked-span.js';
import { cameTrueAnswer } from './views/came-true-answer.js';
import { askedFilter, curvesAnswer } from './views/curves-answer.js';
import { cyclesAnswer } from './views/cycles-answer.js';
import { farmCalendar } from './views/farm-calendar.js';
import { askedKinds, journalAnswer } from './views/journal-answer.js';
import { probesAnswer } from './views/probes-answer.js';
import { seasonAnswer } from './views/season-answer.js';
import { seasonsAnswer } from './views/seasons-answer.js';
import { trayCurveAnswer } from './views/tray-curve-answer.js';
import { waterAnswer } from './views/water-answer.js';
import { whyAnswer } from './views/why-answer.js';

const USUAL_DAYS = { curves: 60, tray: 7, water: 14, probes: 7, journal: 366 };
const USUAL_BUCKETS = 1000;
const MOST_BUCKETS = 4000;
const USUAL_LINES = 200;
const MOST_LINES = 2000;

/** Answers of the reviewer's views; undefined when the path is none of theirs. */
export async function answerReview(house: House, url: URL): Promise<unknown> {
  const { queries, config } = house;
  const query = url.searchParams;
  const { nowMs } = house.live.present();
  const calendar = farmCalendar(config.timeZone);
  const tray = /^\/api\/tray\/([^/]+)\/curve$/.exec(url.pathname)?.[1];
  if (tray !== undefined) {
    const buckets = askedCount(query, 'buckets', USUAL_BUCKETS, MOST_BUCKETS);
    const trayId = decodedId(tray);
    return trayCurveAnswer(house, trayId, askedSpan(query, nowMs, USUAL_DAYS.tray), buckets);
  }
  const whyTray = /^\/api\/tray\/([^/]+)\/why$/.exec(url.pathname)?.[1];
  if (whyTray !== undefined) return whyAnswer(house, decodedId(whyTray), askedInstant(query, 'at'));
  switch (url.pathname) {
    case '/api/curves': {
      const span = askedSpan(query, nowMs, USUAL_DAYS.curves);
      return curvesAnswer(queries, span, askedFilter(query), calendar);
    }
    case '/api/came-true': {
      const span = askedSpan(query, nowMs, USUAL_DAYS.curves);
      return cameTrueAnswer(queries, span, askedFilter(query), calendar);
    }
    case '/api/houses':
      return house.houses?.();
    case '/api/cycles':
      return cyclesAnswer(queries, nowMs, calendar);
    case '/api/seasons':
      return seasonsAnswer(queries, config, nowMs);
    case '/api/season':
      return seasonAnswer(
        queries,
        askedSpan(query, nowMs, USUAL_DAYS.journal),
        calendar,
        query.get('crop') ?? undefined,
      );
    case '/api/water':
      return waterAnswer(queries, askedSpan(query, nowMs, USUAL_DAYS.water), calendar);
    case '/api/probes':
      return probesAnswer(house, askedSpan(query, nowMs, USUAL_DAYS.probes));
    case '/api/journal': {
      const span = askedSpan(query, nowMs, USUAL_DAYS.journal);
      const lines = askedCount(query, 'limit', USUAL_LINES, MOST_LINES);
      const { say } = house.painter.speech;
      return journalAnswer(queries, span, say, askedKinds(query), lines, house.live.undoRule?.());
    }
    default:
      return undefined;
  }
}

function decodedId(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch (cause) {
    if (cause instanceof URIError) throw new Refusal(404, 'unknown-tray', 'That is not the name of a tray.');
    throw cause;
  }
}
