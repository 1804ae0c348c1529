/** Resolves at the first SIGINT or SIGTERM; a second one ends the process at once. */
export function stopSignal(onFirst: (signal: NodeJS.Signals) => void): Promise<void> {
  return new Promise((resolve) => {
    let asked = false;
    const stop = (signal: NodeJS.Signals): void => {
      if (asked) process.exit(130);
      asked = true;
      onFirst(signal);
      resolve();
    };
    process.on('SIGINT', stop);
    process.on('SIGTERM', stop);
  });
}
