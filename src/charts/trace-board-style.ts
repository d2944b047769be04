import { css } from 'lit';

/** A picture with marks over it, which must be seen on any picture. */
export const traceBoardStyle = css`
  .scroll {
    position: relative;
    overflow: auto;
    max-height: 560px;
    width: fit-content;
    max-width: 100%;
    box-sizing: border-box;
    border: 1px solid var(--rule);
  }
  .scroll:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 2px;
  }
  .sheet {
    position: relative;
    width: max-content;
  }
  img {
    display: block;
  }
  svg {
    position: absolute;
    inset: 0;
    cursor: crosshair;
    overflow: hidden;
  }
  /* A dark line on a light one: seen on every picture, whatever its colours. */
  .under,
  .over {
    pointer-events: none;
  }
  .under {
    fill: none;
    stroke: var(--picture-light);
    stroke-opacity: 0.85;
    stroke-width: 4;
    stroke-linejoin: round;
  }
  .over {
    fill: none;
    stroke: var(--picture-dark);
    stroke-width: 1.5;
    stroke-linejoin: round;
  }
  .closing {
    stroke-dasharray: 6 5;
  }
  .scale .over {
    stroke: var(--picture-scale);
    stroke-width: 2.5;
  }
  .handle .knob {
    fill: var(--picture-light);
    stroke: var(--picture-dark);
  }
  .handle.end .knob {
    stroke: var(--picture-scale);
  }
  .handle.selected .knob {
    fill: var(--picture-chosen);
  }
  .handle .focus {
    stroke-width: 3;
  }
  .handle:focus-visible .focus {
    stroke: var(--picture-dark);
    fill: color-mix(in srgb, var(--picture-light) 35%, transparent);
  }
  text.scaled {
    fill: var(--picture-scale);
    stroke: var(--picture-light);
    stroke-width: 4px;
    paint-order: stroke;
    font-weight: 600;
  }
`;
