/**
 * Whether this browser can give a WebGL 2 context. Costs one short-lived context; ask once and keep the answer.
 * Where it is false, show the drawn plan and side view instead of the 3-D view.
 */
export function webglAvailable(): boolean {
  if (typeof document === 'undefined') return false;
  try {
    const context = document.createElement('canvas').getContext('webgl2');
    if (context === null) return false;
    // Browsers keep a small number of contexts alive; give this one back at once.
    context.getExtension('WEBGL_lose_context')?.loseContext();
    return true;
  } catch {
    return false;
  }
}
