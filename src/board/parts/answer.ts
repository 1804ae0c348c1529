/** What one question to a board came to. A fault is a sentence fit for a sample's `reason`. */
export type Answer<T> =
  | { readonly kind: 'value'; readonly value: T }
  | { readonly kind: 'fault'; readonly reason: string };

export function value<T>(given: T): Answer<T> {
  return { kind: 'value', value: given };
}

export function fault(reason: string): { readonly kind: 'fault'; readonly reason: string } {
  return { kind: 'fault', reason };
}
