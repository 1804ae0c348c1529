/** What the outbox and the readings say beside the troubles. */
export interface HealthCounts {
  readonly waiting: number;
  readonly dropped: number;
  readonly untoldReadings: number;
}

/** Health in one sentence: every trouble with what to do, then what waits or was given up. */
export function messagingHealth(
  troubles: readonly (string | undefined)[],
  { waiting, dropped, untoldReadings }: HealthCounts,
): { readonly ok: boolean; readonly reason: string } {
  const real = troubles.filter((trouble) => trouble !== undefined);
  if (real.length === 0) return { ok: true, reason: 'ok' };
  const counts = [
    waiting === 1 ? '1 message waits' : waiting > 1 ? `${waiting} messages wait` : '',
    dropped > 0 ? `the oldest ${dropped} were given up` : '',
    untoldReadings > 0 ? `${untoldReadings} readings were not told` : '',
  ].filter((count) => count !== '');
  return { ok: false, reason: [...real, ...counts].join('; ') };
}
