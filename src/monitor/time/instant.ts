const rfc3339 = /^(\d{4})-(\d\d)-(\d\d)[Tt ]\d\d:\d\d(:\d\d(\.\d+)?)?([Zz]|[+-]\d\d:\d\d)$/;
const leapSecond = /:60(\.\d+)?(?=[Zz+-])/;

/** False for 30 February, which Date.parse takes for 2 March. */
function isDay(year: number, month: number, day: number): boolean {
  return new Date(Date.UTC(year, month - 1, day)).getUTCDate() === day;
}

/**
 * Epoch ms of an RFC 3339 instant; undefined when it is none. A leap second (RFC 3339 section 5.8) counts as the
 * second before it, since epoch time has no place for it; seconds may be left out, as some loggers do.
 */
export function parseInstantMs(text: string): number | undefined {
  const parts = rfc3339.exec(text);
  if (parts === null || !isDay(Number(parts[1]), Number(parts[2]), Number(parts[3]))) return undefined;
  const atMs = Date.parse(leapSecond.test(text) ? text.replace(leapSecond, ':59.999') : text);
  return Number.isNaN(atMs) ? undefined : atMs;
}
