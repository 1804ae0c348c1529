import type { PagePresent } from '../../../../shared/page/page-present.js';

const PRESENT_KEY = 'drybell.present';
const NAME_KEY = 'drybell.name';
/** The picture is written at most this often. */
const REMEMBER_EVERY_MS = 5000;

/** What this phone remembers. A browser that forbids it (private window) simply does not remember. */
function read(key: string): string | undefined {
  try {
    return localStorage.getItem(key) ?? undefined;
  } catch (cause) {
    if (cause instanceof DOMException) return undefined;
    throw cause;
  }
}

/** False where the browser forbids it or has no room. */
function write(key: string, text: string): boolean {
  try {
    localStorage.setItem(key, text);
    return true;
  } catch (cause) {
    if (!(cause instanceof DOMException)) throw cause;
    return false;
  }
}

export interface RememberedPresent {
  readonly present: PagePresent;
  readonly heardAtMs: number;
}

export function rememberedPresent(): RememberedPresent | undefined {
  const text = read(PRESENT_KEY);
  return text === undefined ? undefined : (JSON.parse(text) as RememberedPresent);
}

/** Keeps the last picture for a phone that opens the page where the house can't be reached. */
export function presentKeeper(): (present: PagePresent) => void {
  let keptAtMs = 0;
  return (present) => {
    const heardAtMs = Date.now();
    if (heardAtMs - keptAtMs < REMEMBER_EVERY_MS) return;
    keptAtMs = heardAtMs;
    write(PRESENT_KEY, JSON.stringify({ present, heardAtMs }));
  };
}

export const ownName = (): string => read(NAME_KEY) ?? '';
export function setOwnName(name: string): void {
  write(NAME_KEY, name);
}

/** JSON under a key of its own, or undefined. */
export function remembered<T>(key: string): T | undefined {
  const text = read(`drybell.${key}`);
  return text === undefined ? undefined : (JSON.parse(text) as T);
}

/** False where it will not be remembered. */
export function remember(key: string, value: unknown): boolean {
  return write(`drybell.${key}`, JSON.stringify(value));
}
