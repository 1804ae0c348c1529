import { useState } from 'preact/hooks';
import { MS_PER_MIN } from '../../../../../shared/base/time-units.js';
import type { PagePresent, PageTray } from '../../../../../shared/page/page-present.js';
import { Icon } from '../../draw/icons.js';
import { BlockDrawing } from '../../draw/trays/block-drawing.js';
import { TrayDrawing } from '../../draw/trays/tray-drawing.js';
import { clockOf, useFarmNowMs, useHouse } from '../../house/house.js';
import { trayStandings } from '../../state/tray-standing.js';
import { whyAddress } from '../../state/views.js';
import { sizeWords, waterWords } from '../../texts/amounts/amounts.js';
import { fullWords, hoursSpoken } from '../../texts/hours-left.js';
import { NotesStrip } from '../notes/notes-strip.js';
import { Dose } from '../now/due-card.js';
import { Sheet } from '../parts/sheet.js';
import { spanQuery } from '../parts/span-query.js';
import { CoverPart } from './cover-part.js';
import { LifePart } from './life-part.js';
import { LookPart } from './look-part.js';
import { WaterPart } from './water-part.js';

/** A tray of seedlings is gone long before (judgement). */
const NOTES_DAYS = 366;

interface TraySheetProps {
  readonly present: PagePresent;
  readonly tray: PageTray;
  readonly onClose: () => void;
}

/** Everything about one tray, and everything one can tell about it. */
export function TraySheet({ present, tray, onClose }: TraySheetProps) {
  const { texts } = useHouse();
  const part = { present, tray, onDone: onClose };
  const [noteSpan] = useState(() => spanQuery({ days: NOTES_DAYS }, Date.parse(present.at) + MS_PER_MIN));
  return (
    <Sheet title={tray.id} onClose={onClose}>
      <TrayHead present={present} tray={tray} />
      <a class="press" href={whyAddress(tray.id)} aria-label={texts.why.openFor(tray.id)} onClick={onClose}>
        <Icon name="why" />
        {texts.why.open}
      </a>
      <fieldset class="tray-parts" disabled={!present.canTell}>
        <WaterPart {...part} />
        <LookPart {...part} />
        <CoverPart {...part} />
        <LifePart {...part} />
      </fieldset>
      <NotesStrip present={present} span={noteSpan} tray={tray.id} />
      <a class="press" href={`#/curves/${tray.id}`} onClick={onClose}>
        <Icon name="curves" />
        {texts.tray.seeCurve}
      </a>
    </Sheet>
  );
}

function TrayHead({ present, tray }: { readonly present: PagePresent; readonly tray: PageTray }) {
  const { texts } = useHouse();
  const nowMs = useFarmNowMs();
  const clock = clockOf(present, texts);
  const standing = trayStandings(present).find((one) => one.tray.id === tray.id);
  const size = sizeWords(tray.blockSideMm, present.units);
  const facts = [
    texts.tray.blocksLong(tray.blockCount, size),
    texts.tray.onBench(tray.bench),
    tray.hasProbe ? texts.tray.hasProbe : texts.tray.noProbe,
    tray.sownAt === undefined ? undefined : texts.tray.sownAt(clock.day(Date.parse(tray.sownAt))),
    tray.germinatedAt === undefined
      ? undefined
      : texts.tray.germinatedAt(clock.day(Date.parse(tray.germinatedAt))),
    tray.cover === 'none' ? undefined : texts.tray.covered[tray.cover],
  ].filter((text) => text !== undefined);
  const { forecast, lastWatering } = tray;
  return (
    <div class="tray-head">
      <div class="tray-pictures">
        <TrayDrawing
          blockCount={tray.blockCount}
          blockSideMm={tray.blockSideMm}
          moistureIndex={tray.moistureIndex}
          cover={tray.cover}
          justWatered={false}
        />
        <BlockDrawing
          sideMm={tray.blockSideMm}
          moistureIndex={tray.moistureIndex}
          sprouted={tray.germinatedAt !== undefined}
          label={fullWords(tray.moistureIndex, texts)}
        />
      </div>
      <h2 class="stake">
        <b>{tray.id}</b>
        {tray.crop !== undefined && <span>{tray.crop}</span>}
      </h2>
      <p>{facts.join(' · ')}</p>
      {forecast !== undefined && (
        <dl class="tray-figures">
          <div>
            <dt>{texts.tray.driestTenth}</dt>
            <dd>{hoursSpoken(forecast.hoursToRefillDriestTenth, texts)}</dd>
          </div>
          <div>
            <dt>{texts.tray.meanBlock}</dt>
            <dd>{hoursSpoken(forecast.hoursToRefill, texts)}</dd>
          </div>
        </dl>
      )}
      {forecast?.basis !== undefined && <p class="basis">{texts.tray.basis[forecast.basis]}</p>}
      {standing?.doseMl !== undefined && <Dose standing={standing} present={present} />}
      <p>
        {lastWatering === undefined
          ? texts.tray.neverWatered
          : `${texts.tray.lastWatering(clock.when(Date.parse(lastWatering.at), nowMs))}, ${[
              lastWatering.ml === undefined ? texts.tray.filled : waterWords(lastWatering.ml, present.units),
              texts.tray[lastWatering.source],
            ].join(', ')}`}
      </p>
    </div>
  );
}
