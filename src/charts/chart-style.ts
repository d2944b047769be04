import { css } from 'lit';

/** What all drawings share: type, handles, readouts. Colours are the page's tokens. */
export const chartStyle = css`
  :host {
    display: block;
    position: relative;
    color: var(--ink);
    font-family: var(--font-text);
    font-size: var(--size-figure, 12.5px);
    font-variant-numeric: tabular-nums;
    user-select: none;
    -webkit-user-select: none;
  }
  .frame {
    position: relative;
  }
  svg {
    display: block;
    overflow: visible;
    max-width: none;
  }
  /* What only is looked at: the pointer then meets the frame at once, however many lines are drawn. */
  .looked-at {
    pointer-events: none;
  }
  text {
    font-size: var(--size-figure, 12.5px);
    font-family: var(--font-text);
    fill: var(--soft);
    stroke: none;
  }
  text.halo {
    paint-order: stroke;
    stroke: var(--sheet);
    stroke-width: 4px;
    stroke-linejoin: round;
    fill: var(--ink);
  }
  .ground {
    fill: var(--sheet);
  }
  .grid {
    stroke: var(--ink);
    stroke-opacity: 0.06;
    stroke-width: 1;
  }
  .grid.axis {
    stroke-opacity: 0.17;
  }
  .crosshair {
    stroke: var(--ink);
    stroke-opacity: 0.55;
    stroke-width: 1;
    stroke-dasharray: 2 3;
    pointer-events: none;
  }
  .handle {
    cursor: grab;
    /* Not inline: touch-action means nothing to inline elements, as groups of a drawing are; a finger would scroll the page. */
    display: block;
    touch-action: none;
    outline: none;
  }
  .handle:active {
    cursor: grabbing;
  }
  .handle .knob {
    fill: var(--sheet);
    stroke: var(--ink);
    stroke-width: 2;
  }
  .handle .target {
    fill: transparent;
  }
  .handle .focus {
    fill: none;
    stroke: transparent;
    stroke-width: 2;
  }
  .handle:focus-visible .focus {
    stroke: var(--ink);
  }
  :host([still]) .handle {
    display: none;
  }
  .dimension {
    stroke: var(--soft);
    stroke-width: 1;
    fill: none;
  }
  .dimension.arrow {
    fill: var(--soft);
    stroke: none;
  }
  .extension {
    stroke: var(--soft);
    stroke-opacity: 0.6;
    stroke-width: 1;
  }
  .place {
    position: absolute;
    transform: translate(-50%, -50%);
    line-height: 1.15;
  }
  .place.from-left {
    transform: translate(0, -50%);
  }
  .place.to-right {
    transform: translate(-100%, -50%);
  }
  .quiet {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  @media print {
    .handle,
    .crosshair {
      display: none;
    }
  }
`;
