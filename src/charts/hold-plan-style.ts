import { css } from 'lit';

export const holdPlanStyle = css`
  .outline,
  .safe,
  .worst,
  .capture,
  .rest,
  .play,
  .magnet,
  .tail,
  .reach {
    fill: none;
    pointer-events: none;
  }
  .device {
    fill: var(--ink);
    fill-opacity: 0.045;
    stroke: var(--ink);
    stroke-width: 1.6;
    pointer-events: none;
  }
  .pocket {
    fill: none;
    stroke: var(--ink);
    stroke-width: 2.6;
    pointer-events: none;
  }
  .outline {
    stroke-width: 1.3;
    stroke-opacity: 0.75;
  }
  .outline.transmitter {
    stroke: var(--copper);
  }
  .outline.receiver {
    stroke: var(--steel);
    stroke-dasharray: 1 3;
    stroke-linecap: round;
  }
  .safe {
    fill: var(--margin-3);
    fill-opacity: 0.85;
    stroke: var(--good);
    stroke-width: 1.8;
  }
  .worst {
    stroke: var(--good);
    stroke-width: 1.2;
    stroke-dasharray: 5 3;
  }
  .capture {
    stroke: var(--second);
    stroke-width: 1.6;
    stroke-dasharray: 9 4;
  }
  .rest {
    fill: var(--second);
    fill-opacity: 0.16;
    stroke: var(--second);
    stroke-width: 1.6;
  }
  .play {
    stroke: var(--ink);
    stroke-width: 1.4;
    stroke-dasharray: 8 3 2 3;
  }
  .magnet {
    stroke: var(--second);
    stroke-width: 2;
    fill: var(--second);
    fill-opacity: 0.1;
  }
  .tail {
    stroke: var(--ink);
    stroke-opacity: 0.16;
    stroke-width: 0.8;
  }
  .dot {
    fill: var(--ink);
    fill-opacity: 0.62;
    pointer-events: none;
  }
  .miss {
    stroke: var(--bad);
    stroke-width: 1.7;
    fill: none;
    pointer-events: none;
  }
  .centre-mark {
    stroke: var(--copper);
    stroke-width: 1.4;
    fill: none;
  }
  text.safe {
    fill: var(--good);
    fill-opacity: 1;
    stroke: var(--sheet);
    stroke-width: 4px;
  }
  text.capture,
  text.rest,
  text.magnet {
    fill: var(--second);
    fill-opacity: 1;
    stroke: var(--sheet);
    stroke-width: 4px;
    stroke-dasharray: none;
  }
  text.play,
  text.worst {
    stroke: var(--sheet);
    stroke-width: 4px;
    stroke-dasharray: none;
  }
  text.worst {
    fill: var(--good);
  }
  text.play {
    fill: var(--ink);
  }
  text.transmitter {
    fill: var(--copper);
  }
  text.receiver {
    fill: var(--steel);
  }
  /* Beside the edge an absolute box would shrink below its number. */
  .place {
    width: max-content;
  }
  .wall {
    cursor: ew-resize;
  }
  .move .knob {
    stroke: var(--second);
    stroke-width: 2.6;
  }
  .reading {
    pointer-events: none;
  }
  :host([stale]) .safe:not(text),
  :host([stale]) .dot,
  :host([stale]) .miss,
  :host([stale]) .rest:not(text),
  :host([stale]) .capture:not(text) {
    opacity: 0.5;
  }
`;
