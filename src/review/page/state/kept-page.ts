/** Whether this phone can keep the page for when the house can't be reached: browsers allow it over TLS and to the house itself. */
export const canKeepPage = (): boolean => 'serviceWorker' in navigator && window.isSecureContext;

/** Lets the browser keep the page, so that it opens without the network. */
export function keepPage(): void {
  if (!canKeepPage()) return;
  void navigator.serviceWorker.register('/keeper.js').catch((cause: unknown) => {
    // A browser that forbids it (private window) opens the page from the house alone.
    if (!(cause instanceof DOMException) && !(cause instanceof TypeError)) throw cause;
  });
  navigator.serviceWorker.addEventListener('message', ({ data }: MessageEvent<{ goTo?: string }>) => {
    if (data.goTo !== undefined) comeTo(data.goTo);
  });
  navigator.serviceWorker.startMessages();
}

/** Goes to a view from its top, whatever lies over it. */
function comeTo(address: string): void {
  document.querySelector<HTMLDialogElement>('dialog[open]')?.close();
  location.hash = address;
  scrollTo(0, 0);
}
