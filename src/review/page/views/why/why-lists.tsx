import type { ComponentChildren } from 'preact';
import type { HoursQuantiles } from '../../../../../shared/facts/forecast.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { TrayWhy } from '../../../../../shared/page/page-why.js';
import { clockOf, useHouse } from '../../house/house.js';
import { evidenceWords } from './evidence-words.js';
import { HourMove } from './hour-move.js';
import { drawnH, effectWords, standWords } from './hour-words.js';

interface WhyListsProps {
  readonly why: TrayWhy;
  readonly present: PagePresent;
}

/** What moved the forecast, furthest first, and what would change it; all on one scale of hours. */
export function WhyLists({ why, present }: WhyListsProps) {
  const { texts } = useHouse();
  const words = texts.why;
  const clock = clockOf(present, texts);
  const when = (at: string): string => clock.when(Date.parse(at), Date.parse(why.at));
  const { hours, evidence, supposed } = why;
  // What lies beyond the horizon stands at the end, and does not press the others together.
  const middles = [hours, ...evidence.map((one) => one.without), ...supposed.map((one) => one.hours)];
  const wideH = Math.max(1, ...middles.flatMap(({ p50 }) => p50 ?? []));
  return (
    <div class="why-parts">
      <section>
        <h2>{words.movedTitle}</h2>
        <p class="hint">{evidence.length === 0 ? words.nothing : words.lead(when(why.since))}</p>
        <ol class="why-list">
          {evidence.map((one) => (
            <Piece
              key={`${one.kind} ${one.at} ${one.source}`}
              effect={effectWords(one.without, hours, texts)}
              from={one.without}
              to={hours}
              wideH={wideH}
              aside={words.stands(standWords(hours.p50, texts), standWords(one.without.p50, texts))}
            >
              {evidenceWords(one, texts, present.units, when)}
              {one.at !== undefined && one.source !== undefined && <small>{words.by(one.source)}</small>}
            </Piece>
          ))}
        </ol>
      </section>
      <section>
        <h2>{words.supposedTitle}</h2>
        <p class="hint">{words.supposedLead}</p>
        <ol class="why-list">
          {supposed.map((one) => (
            <Piece
              key={one.what}
              effect={effectWords(hours, one.hours, texts)}
              from={hours}
              to={one.hours}
              wideH={wideH}
              aside={words.wouldBe(standWords(one.hours.p50, texts))}
            >
              {words.supposed[one.what]}
            </Piece>
          ))}
        </ol>
      </section>
    </div>
  );
}

interface PieceProps {
  readonly effect: string;
  readonly from: HoursQuantiles;
  readonly to: HoursQuantiles;
  readonly wideH: number;
  readonly aside: string;
  readonly children: ComponentChildren;
}

function Piece({ effect, from, to, wideH, aside, children }: PieceProps) {
  return (
    <li>
      <p class="why-what">{children}</p>
      <p class="why-effect">
        <b>{effect}</b>
        <small>{aside}</small>
      </p>
      <HourMove fromH={drawnH(from.p50)} toH={drawnH(to.p50)} wideH={wideH} />
    </li>
  );
}
