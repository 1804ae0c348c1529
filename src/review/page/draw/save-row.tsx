import { render } from 'preact';
import { useHouse } from '../house/house.js';
import { type PictureSpec, SavedPicture } from './picture.js';

interface SaveRowProps {
  /** Name of the files, without an ending. */
  readonly name: string;
  /** What is kept, in words: a page has several rows like this. */
  readonly of: string;
  readonly picture?: PictureSpec | undefined;
  readonly head: readonly string[];
  readonly rows: () => readonly (readonly string[])[];
}

/** By then a browser has read what it saves from the page's own memory (judgement). */
const FETCHED_WITHIN_MS = 60_000;

/** A picture to be kept: as a drawing and as its numbers. */
export function SaveRow({ name, of, picture, head, rows }: SaveRowProps) {
  const { texts } = useHouse();
  return (
    <p class="save-row">
      <span>{texts.review.save.title}</span>
      {picture !== undefined && (
        <button
          type="button"
          class="press press-small"
          aria-label={texts.review.save.of(texts.review.save.picture, of)}
          onClick={() => save(`${name}.svg`, 'image/svg+xml', svgOf(picture))}
        >
          {texts.review.save.picture}
        </button>
      )}
      <button
        type="button"
        class="press press-small"
        aria-label={texts.review.save.of(texts.review.save.numbers, of)}
        onClick={() => save(`${name}.csv`, 'text/csv', csvOf([head, ...rows()]))}
      >
        {texts.review.save.numbers}
      </button>
    </p>
  );
}

function svgOf(picture: PictureSpec): string {
  const place = document.createElement('div');
  render(<SavedPicture spec={picture} />, place);
  const svg = place.firstElementChild;
  if (svg === null) throw new TypeError('nothing was drawn');
  return new XMLSerializer().serializeToString(svg);
}

/** RFC 4180: a cell with a comma, a quote or a line's end stands in quotes, lines end with CR LF. */
function csvOf(rows: readonly (readonly string[])[]): string {
  const cell = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

function save(name: string, type: string, text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  // A browser fetches it after the press: taken away at once it is sometimes not there any more.
  setTimeout(() => URL.revokeObjectURL(link.href), FETCHED_WITHIN_MS);
}
