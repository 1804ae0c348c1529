import { useEffect, useRef, useState } from 'preact/hooks';
import { useHouse } from '../house/house.js';

interface DataTableProps {
  readonly summary: string;
  readonly caption: string;
  readonly head: readonly string[];
  /** Asked for when the table is opened: hundreds of cells that few read need not stand in the way of the picture. */
  readonly rows: () => readonly (readonly string[])[];
}

/** The numbers of a plot as a table, folded away until asked for. */
export function DataTable({ summary, caption, head, rows }: DataTableProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details class="table-of" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{summary}</summary>
      {isOpen && <Table caption={caption} head={head} rows={rows()} />}
    </details>
  );
}

interface TableProps {
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A region that scrolls must be reachable by keyboard (WCAG 2.1.1); Safari does not see to it by itself. */
const REACHABLE = { tabIndex: 0 };

/** Whether an element holds more than it shows, as its room and what is in it change. */
function useHidesSome(): { place: { current: HTMLElement | null }; hidesSome: boolean } {
  const place = useRef<HTMLElement>(null);
  const [hidesSome, setHidesSome] = useState(false);
  useEffect(() => {
    const element = place.current;
    if (element === null) return;
    const measure = (): void =>
      setHidesSome(
        element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 1,
      );
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    if (element.firstElementChild !== null) watcher.observe(element.firstElementChild);
    return () => watcher.disconnect();
  }, []);
  return { place, hidesSome };
}

/** A table whose first column names its rows. Where it is wider or longer than its room it is pushed, by keyboard too, and says so. */
export function Table({ caption, head, rows }: TableProps) {
  const { texts } = useHouse();
  const { place, hidesSome } = useHidesSome();
  const region = hidesSome ? { 'aria-label': `${caption}. ${texts.review.pushTable}`, ...REACHABLE } : {};
  return (
    <>
      {hidesSome && (
        <p class="push-hint" aria-hidden="true">
          {texts.review.pushTable}
        </p>
      )}
      <section ref={place} class="table-scroll" {...region}>
        <table>
          <caption class="spoken">{caption}</caption>
          <thead>
            <tr>
              {head.map((word) => (
                <th key={word} scope="col">
                  {word}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row[0]}>
                {row.map((cell, column) =>
                  column === 0 ? (
                    <th key={head[column]} scope="row">
                      {cell}
                    </th>
                  ) : (
                    <td key={head[column]}>{cell}</td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}
