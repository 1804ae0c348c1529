import { useEffect, useRef, useState } from 'preact/hooks';
import type { PagePresent } from '../../../../shared/page/page-present.js';
import { Icon, type IconName } from '../draw/icons.js';
import { clockOf, useFarmNowMs, useHouse, useStore } from '../house/house.js';
import { type Place, placeOf, VIEWS } from '../state/views.js';
import { NowView } from '../views/now/now-view.js';
import { NewTraySheet } from '../views/tray/new/new-tray-sheet.js';
import { TraySheet } from '../views/tray/tray-sheet.js';
import { ContactBand } from './contact-band.js';
import { OwnSheet } from './own-sheet.js';
import { ReviewView } from './review-view.js';
import { ToldBar } from './told-bar.js';

/** Open over a view: a tray, a new tray, what belongs to this phone. */
type Over = { readonly kind: 'tray'; readonly trayId: string } | { readonly kind: 'new' | 'own' } | undefined;

function usePlace(): Place {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const follow = (): void => setHash(location.hash);
    window.addEventListener('hashchange', follow);
    // who chose a view while the page was being drawn for the first time chose it before anybody listened
    follow();
    return () => window.removeEventListener('hashchange', follow);
  }, []);
  return placeOf(hash);
}

/** Names the window for its view; whoever has gone to another one hears it from its top. */
function useNamedView(
  present: PagePresent | undefined,
  view: Place['view'],
  detail: string | undefined,
): void {
  const { texts } = useHouse();
  const titles: Readonly<Record<Place['view'], string>> = {
    ...texts.views,
    why: texts.why.title(detail ?? ''),
    season: texts.season.title,
    houses: texts.houses.title,
  };
  const title = [titles[view], present?.farm].filter(Boolean).join(' · ');
  useEffect(() => {
    document.title = title;
  }, [title]);
  const before = useRef(view);
  useEffect(() => {
    if (before.current !== view) document.getElementById('content')?.focus({ preventScroll: true });
    before.current = view;
  }, [view]);
}

/** The page around the views: name of the farm, contact, views within the thumb's reach. */
export function Shell() {
  const { store, texts } = useHouse();
  const { present } = useStore(store);
  const { view, detail, at } = usePlace();
  const [over, setOver] = useState<Over>(undefined);
  const close = (): void => setOver(undefined);
  useNamedView(present, view, detail);
  const tray = over?.kind === 'tray' ? present?.trays.find((one) => one.id === over.trayId) : undefined;
  return (
    <>
      <button type="button" class="skip" onClick={() => document.getElementById('content')?.focus()}>
        {texts.skip}
      </button>
      {present !== undefined && <FarmSign present={present} onOwn={() => setOver({ kind: 'own' })} />}
      <ContactBand />
      <main id="content" tabIndex={-1} class={`view-${view}`}>
        {present !== undefined &&
          (view === 'now' ? (
            <NowView
              present={present}
              onOpenTray={(trayId) => setOver({ kind: 'tray', trayId })}
              onNewTray={() => setOver({ kind: 'new' })}
            />
          ) : (
            <ReviewView view={view} detail={detail} at={at} present={present} />
          ))}
      </main>
      <ToldBar />
      <nav class="views" aria-label={texts.viewsLabel}>
        {VIEWS.map((name) => (
          <a key={name} href={`#${name}`} aria-current={name === view ? 'page' : undefined}>
            <Icon name={name satisfies IconName} />
            <span>{texts.views[name]}</span>
          </a>
        ))}
      </nav>
      {present !== undefined && tray !== undefined && (
        <TraySheet key={tray.id} present={present} tray={tray} onClose={close} />
      )}
      {present !== undefined && over?.kind === 'new' && <NewTraySheet present={present} onClose={close} />}
      {present !== undefined && over?.kind === 'own' && <OwnSheet present={present} onClose={close} />}
    </>
  );
}

function FarmSign({ present, onOwn }: { readonly present: PagePresent; readonly onOwn: () => void }) {
  const { texts } = useHouse();
  const nowMs = useFarmNowMs();
  const clock = clockOf(present, texts);
  return (
    <header class="farm-sign">
      {present.houseCount === undefined ? (
        <span class="farm-name">{present.farm}</span>
      ) : (
        <a class="farm-name houses-open" href="#houses">
          {present.farm} <small>{texts.houses.open(present.houseCount)}</small>
        </a>
      )}
      <time class="farm-time" dateTime={new Date(nowMs).toISOString()}>
        <span class="spoken">{texts.clock.farmTime}</span>
        <span>{clock.day(nowMs)}</span> {clock.timeOfDay(nowMs)}
      </time>
      <button type="button" class="own-open" onClick={onOwn} aria-label={texts.own.title}>
        <Icon name="phone" />
        <span class="own-word" aria-hidden="true">
          {texts.own.title}
        </span>
      </button>
    </header>
  );
}
