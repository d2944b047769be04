/** What takes the focus in a station. */
const FOCUSABLE =
  'a[href], button, input, select, summary, [tabindex], oc-dimension, oc-unit-field, oc-choice, oc-margin-map, oc-side-view';

/**
 * Remembers what has the focus before something is drawn anew.
 * @returns brings the focus to what comes next on the page, else to what stood before, where what had it is gone; to be called
 * once it is drawn
 */
export function keptFocus(root: ShadowRoot): () => void {
  const active = root.activeElement;
  if (active === null) return () => {};
  const all = [...root.querySelectorAll<HTMLElement>(FOCUSABLE)];
  const at = all.indexOf(active as HTMLElement);
  return () => {
    if (active.isConnected || root.activeElement !== null || at < 0) return;
    for (const next of [...all.slice(at + 1), ...all.slice(0, at).reverse()]) {
      if (!next.isConnected) continue;
      next.focus({ preventScroll: true });
      if (root.activeElement !== null) return;
    }
  };
}
