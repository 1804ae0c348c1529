import type { FarmPresent, PageFeed } from '../../src/review/feed/page-feed.js';

/** The demo farm with its trays over again until there are `count`. */
export function manyTrays(feed: PageFeed, count: number): PageFeed {
  const over = <T>(
    map: ReadonlyMap<string, T>,
    of: (value: T, id: string) => T,
    copies: number,
  ): Map<string, T> =>
    new Map(
      Array.from({ length: copies }, (_, n) =>
        [...map].map(([id, value]) => [`${id}-${n}`, of(value, `${id}-${n}`)] as const),
      ).flat(),
    );
  return {
    ...feed,
    present: (): FarmPresent => {
      const now = feed.present();
      const copies = Math.ceil(count / now.trays.length);
      const numbers = Array.from({ length: copies }, (_, n) => n);
      const { notice } = now;
      return {
        ...now,
        trays: numbers
          .flatMap((n) => now.trays.map((tray) => ({ ...tray, id: `${tray.id}-${n}` })))
          .slice(0, count),
        forecasts: over(now.forecasts, (forecast, tray) => ({ ...forecast, tray }), copies),
        levels: over(now.levels, (levels) => levels, copies),
        notice:
          notice === undefined
            ? undefined
            : {
                ...notice,
                due: numbers.flatMap((n) => notice.due.map((due) => ({ ...due, tray: `${due.tray}-${n}` }))),
                canWait: numbers.flatMap((n) =>
                  notice.canWait.map((wait) => ({ ...wait, tray: `${wait.tray}-${n}` })),
                ),
              },
      };
    },
  };
}
