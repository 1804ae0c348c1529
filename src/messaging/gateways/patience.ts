/**
 * Runs work that is given up after `patienceMs`, or at once when `ending` is aborted. The signal's reason is a DOMException "TimeoutError" in the
 * first case, that of `ending` in the second. Not AbortSignal.any over AbortSignal.timeout: Node 20 lets the garbage collector take
 * the timeout away while the work waits, which then never ends.
 */
export async function withPatience<Result>(
  patienceMs: number,
  ending: AbortSignal,
  work: (signal: AbortSignal) => Promise<Result>,
): Promise<Result> {
  const giveUp = new AbortController();
  const end = () => giveUp.abort(ending.reason);
  const timer = setTimeout(
    () => giveUp.abort(new DOMException(`no answer within ${patienceMs} ms`, 'TimeoutError')),
    patienceMs,
  );
  if (ending.aborted) end();
  ending.addEventListener('abort', end);
  try {
    return await work(giveUp.signal);
  } finally {
    clearTimeout(timer);
    ending.removeEventListener('abort', end);
  }
}
