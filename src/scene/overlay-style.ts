/** Style of the drawing's own layer; lives in a shadow root, so that no page can disturb it. */
export const OVERLAY_STYLE = `
:host { position: absolute; inset: 0; display: block; overflow: hidden; contain: strict; }
canvas, svg { position: absolute; inset: 0; width: 100%; height: 100%; display: block; }
canvas {
  touch-action: pan-y; cursor: grab; outline-offset: -2px;
  mask-image:
    linear-gradient(to bottom, transparent, #000 14px, #000 calc(100% - 26px), transparent),
    linear-gradient(to right, transparent, #000 14px, #000 calc(100% - 14px), transparent);
  mask-composite: intersect;
}
canvas:focus-visible { outline: none; }
canvas:focus-visible ~ .ring { position: absolute; inset: 0; border: 2px solid var(--scene-ink); pointer-events: none; }
canvas.turning { cursor: grabbing; }
svg { pointer-events: none; }
svg path { fill: none; stroke-linejoin: round; stroke-linecap: round; }
.handle {
  position: absolute; left: 0; top: 0; width: 28px; height: 28px; margin: -14px 0 0 -14px; border-radius: 50%;
  cursor: grab; touch-action: none; outline: none; transition: opacity 120ms; -webkit-tap-highlight-color: transparent;
}
@media (pointer: coarse) { .handle { width: 40px; height: 40px; margin: -20px 0 0 -20px; } }
.handle::before {
  content: ''; position: absolute; left: 50%; top: 50%; width: 9px; height: 9px; margin: -4.5px 0 0 -4.5px;
  box-sizing: border-box; border-radius: 50%; border: 2px solid var(--of); background: var(--scene-sheet);
  box-shadow: 0 0 0 1.5px color-mix(in srgb, var(--scene-paper) 75%, transparent);
  transition: transform 120ms, background 120ms;
}
.handle.offset::before { width: 19px; height: 19px; margin: -9.5px 0 0 -9.5px; border-width: 2.5px; }
.handle.offset::after {
  content: ''; position: absolute; left: 50%; top: 50%; width: 5px; height: 5px; margin: -2.5px 0 0 -2.5px;
  border-radius: 50%; background: var(--of);
}
.handle:is(:hover, :focus-visible, .held)::before { transform: scale(1.3); background: var(--of); }
.handle.offset:is(:hover, :focus-visible, .held)::before { transform: scale(1.12); background: var(--scene-sheet); }
.handle:focus-visible { box-shadow: inset 0 0 0 2px var(--scene-ink); }
.handle.held { cursor: grabbing; }
.handle.aside { opacity: 0; pointer-events: none; }
.handle.gone { visibility: hidden; }
.transmitter { --of: var(--scene-copper); }
.receiver { --of: var(--scene-steel); }
.refused { --of: var(--scene-bad); }
.spoken { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media (prefers-reduced-motion: reduce) { .handle, .handle::before { transition: none; } }
`;
