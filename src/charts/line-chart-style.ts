import { css } from 'lit';

export const lineChartStyle = css`
  .hatch {
    stroke: var(--hatch);
    stroke-width: 1;
  }
  .zero {
    stroke: var(--ink);
    stroke-width: 2.6;
  }
  .wanted {
    stroke: var(--ink);
    stroke-width: 1.4;
    stroke-dasharray: 8 5;
    stroke-opacity: 0.8;
  }
  .curve {
    fill: none;
    stroke-width: 2;
    pointer-events: none;
  }
  .curve.first {
    stroke: var(--ink);
  }
  .curve.second {
    stroke: var(--second);
    stroke-dasharray: 6 4;
  }
  .band {
    stroke: none;
    fill-opacity: 0.13;
    pointer-events: none;
  }
  .band.first {
    fill: var(--ink);
  }
  .band.second {
    fill: var(--second);
  }
  text.first {
    fill: var(--ink);
  }
  text.second {
    fill: var(--second);
  }
  text.zone {
    fill: var(--soft);
  }
  .reading-dot {
    fill: var(--sheet);
    stroke-width: 2;
  }
  .reading-dot.first {
    stroke: var(--ink);
  }
  .reading-dot.second {
    stroke: var(--second);
  }
  .marker {
    cursor: ew-resize;
  }
  .now {
    stroke: var(--steel);
    stroke-width: 1.2;
  }
  .marker .knob {
    stroke: var(--steel);
    stroke-width: 2.6;
  }
  .reading {
    pointer-events: none;
  }
  :host([stale]) .curve,
  :host([stale]) .band {
    opacity: 0.45;
  }
`;
