/** An earlier form of a document: an object whose keys nobody knows any more but the step that reads them. */
export type Older = Readonly<Record<string, unknown>>;

/**
 * A JSON document that outlives the program that wrote it. It carries its `version`; whoever changes its shape raises that and adds
 * the step that makes the new shape of the old one. A version without a step is told as unreadable, and its owner builds it anew.
 */
export interface KeptDocument<T> {
  /** What people call it: "the desk's state". */
  readonly name: string;
  readonly version: number;
  /** The version of a document that says none; absent: such a one is not whole. */
  readonly unversioned?: number;
  /** By version: what makes the next version's shape of it. */
  readonly steps: Readonly<Record<number, (older: Older) => Older>>;
  /** The value of a document of this version; undefined, TypeError or RangeError when it is not whole. */
  readonly read: (document: Older) => T | undefined;
}

export type DocumentReading<T> =
  | { readonly outcome: 'none' }
  | { readonly outcome: 'read'; readonly value: T }
  /** `why` ends a sentence that begins with the document's name. */
  | { readonly outcome: 'unreadable'; readonly why: string };

function unreadable(why: string): Extract<DocumentReading<never>, { readonly outcome: 'unreadable' }> {
  return { outcome: 'unreadable', why };
}

/** Reads a document of this version or an earlier one. Never throws: what can't be read says why. */
export function readDocument<T>(kept: KeptDocument<T>, document: unknown): DocumentReading<T> {
  if (document === undefined || document === null) return { outcome: 'none' };
  if (typeof document !== 'object') return unreadable('is not whole');
  let current = document as Older;
  const written = current['version'] ?? kept.unversioned;
  if (typeof written !== 'number' || !Number.isSafeInteger(written)) return unreadable('says no version');
  if (written > kept.version)
    return unreadable(`is of version ${written}, and this program knows up to ${kept.version}`);
  try {
    for (let version = written; version < kept.version; version++) {
      const step = kept.steps[version];
      if (step === undefined)
        return unreadable(`is of version ${written}, of which version ${kept.version} cannot be made`);
      current = { ...step(current), version: version + 1 };
    }
    const value = kept.read(current);
    return value === undefined ? unreadable('is not whole') : { outcome: 'read', value };
  } catch (cause) {
    if (cause instanceof TypeError || cause instanceof RangeError)
      return unreadable(`is not whole (${cause.message})`);
    throw cause;
  }
}

/** The value of a document that must be readable; undefined when there is none. Throws RangeError. */
export function documentValue<T>(kept: KeptDocument<T>, document: unknown): T | undefined {
  const reading = readDocument(kept, document);
  if (reading.outcome === 'unreadable') throw new RangeError(`${kept.name} ${reading.why}`);
  return reading.outcome === 'read' ? reading.value : undefined;
}
