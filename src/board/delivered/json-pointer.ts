/** The value at a JSON Pointer (RFC 6901); undefined where there is none. */
export function atPointer(document: unknown, pointer: string): unknown {
  let here = document;
  for (const part of pointer.split('/').slice(1)) {
    const key = part.replaceAll('~1', '/').replaceAll('~0', '~');
    if (typeof here !== 'object' || here === null) return undefined;
    if (Array.isArray(here)) {
      if (!/^(0|[1-9]\d*)$/.test(key)) return undefined;
      here = here[Number(key)];
    } else here = Object.hasOwn(here, key) ? Reflect.get(here, key) : undefined;
  }
  return here;
}
