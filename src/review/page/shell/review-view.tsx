import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { PagePresent } from '../../../../shared/page/page-present.js';
import { useHouse } from '../house/house.js';
import type { Place } from '../state/views.js';

type ReviewProps = Omit<Place, 'view'> & { readonly present: PagePresent };
type ReviewName = Exclude<Place['view'], 'now'>;

/** The reviewer's views are fetched when they are first opened; the Now view does not wait for them. */
const LOADERS: Readonly<Record<ReviewName, () => Promise<ComponentType<ReviewProps>>>> = {
  curves: async () => (await import('../views/curves/curves-view.js')).CurvesView,
  water: async () => (await import('../views/water/water-view.js')).WaterView,
  probes: async () => (await import('../views/probes/probes-view.js')).ProbesView,
  journal: async () => (await import('../views/journal/journal-view.js')).JournalView,
  season: async () => (await import('../views/season/season-view.js')).SeasonView,
  houses: async () => (await import('../views/houses/houses-view.js')).HousesView,
  why: async () => (await import('../views/why/why-view.js')).WhyView,
};

/** One of the reviewer's views. */
export function ReviewView({ view, detail, at, present }: ReviewProps & { readonly view: ReviewName }) {
  const { texts } = useHouse();
  const [loaded, setLoaded] = useState<{ view: ReviewName; View: ComponentType<ReviewProps> } | undefined>(
    undefined,
  );
  const [problem, setProblem] = useState<string | undefined>(undefined);
  useEffect(() => {
    setProblem(undefined);
    LOADERS[view]()
      .then((View) => setLoaded({ view, View }))
      .catch((cause: unknown) => {
        if (!(cause instanceof TypeError)) throw cause;
        setProblem(texts.review.noContact);
      });
  }, [view, texts]);
  if (problem !== undefined) return <p class="problem">{problem}</p>;
  if (loaded === undefined || loaded.view !== view) return <p class="empty">{texts.review.fetching}</p>;
  return <loaded.View present={present} detail={detail} at={at} />;
}
