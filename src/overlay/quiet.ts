/** Waits until a page has loaded and has nothing urgent to do, so that frameworks have hydrated what they hydrate. */

/** Longest wait after loading, in milliseconds. */
const LONGEST_WAIT_MS = 1_500;

/** Runs the work once the page is quiet; never, when the signal is raised before. */
export function whenQuiet(document: Document, signal: AbortSignal, work: () => void): void {
  const view = document.defaultView;
  const later = () => {
    const run = () => {
      if (!signal.aborted) work();
    };
    if (view && "requestIdleCallback" in view) view.requestIdleCallback(run, { timeout: LONGEST_WAIT_MS });
    else setTimeout(run, 50);
  };
  if (document.readyState === "complete") later();
  else view?.addEventListener("load", later, { once: true, signal });
}
