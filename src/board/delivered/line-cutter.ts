/** Longer than any sensible line; the rest of one is thrown away, as a port that sends no line ends must not fill the memory. */
const longestLine = 16_384;

/** Cuts what comes in pieces into lines; the last, unfinished one waits. */
export function createLineCutter(onLine: (line: string) => void): (piece: string) => void {
  let begun = '';
  let skipping = false;
  return (piece) => {
    const parts = piece.split(/\r\n|\n|\r/);
    parts.forEach((part, index) => {
      begun = skipping ? '' : begun + part;
      if (begun.length > longestLine) {
        begun = '';
        skipping = true;
      }
      if (index === parts.length - 1) return;
      if (!skipping && begun.trim() !== '') onLine(begun);
      begun = '';
      skipping = false;
    });
  };
}
