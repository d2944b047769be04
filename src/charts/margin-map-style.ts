import { css } from 'lit';

export const marginMapStyle = css`
  .hatch {
    stroke: var(--hatch);
    stroke-width: 1;
  }
  .asleep {
    fill: var(--soft);
    fill-opacity: 0.4;
  }
  .wash {
    stroke: none;
  }
  .tone-1 {
    fill: var(--margin-1);
  }
  .tone-2 {
    fill: var(--margin-2);
  }
  .tone-3 {
    fill: var(--margin-3);
  }
  .tone-4 {
    fill: var(--margin-4);
  }
  .tone-5 {
    fill: var(--margin-5);
  }
  .tone-6 {
    fill: var(--margin-6);
  }
  .computed {
    fill: none;
    stroke: var(--soft);
    stroke-opacity: 0.45;
    stroke-dasharray: 2 4;
  }
  .veil {
    fill: var(--sheet);
    fill-opacity: 0.4;
  }
  .step,
  .zero,
  .wanted,
  .wake,
  .peak,
  .safe,
  .safe-ticks,
  .reach,
  .outline,
  .centre-mark {
    fill: none;
    pointer-events: none;
  }
  .step {
    stroke: var(--ink);
    stroke-opacity: 0.28;
    stroke-width: 0.8;
  }
  .zero {
    stroke: var(--ink);
    stroke-width: 3;
  }
  .wanted {
    stroke: var(--ink);
    stroke-width: 2;
    stroke-dasharray: 9 5;
  }
  .wake {
    stroke: var(--ink);
    stroke-width: 2.2;
    stroke-dasharray: 0.1 5;
    stroke-linecap: round;
  }
  .peak {
    stroke: var(--bad);
    stroke-width: 1.8;
    stroke-dasharray: 11 3 2 3;
  }
  .safe {
    stroke: var(--good);
    stroke-width: 1.2;
  }
  .safe-ticks {
    stroke: var(--good);
    stroke-width: 1;
  }
  .reach {
    stroke: var(--ink);
    stroke-width: 0.9;
    stroke-opacity: 0.75;
  }
  .centre-mark {
    stroke: var(--copper);
    stroke-width: 1.4;
  }
  .outline {
    stroke-width: 1.7;
  }
  .outline.inner {
    stroke-width: 1;
    stroke-opacity: 0.45;
  }
  .outline.halo {
    stroke: var(--sheet);
    stroke-opacity: 0.65;
    stroke-width: 4;
  }
  .outline.transmitter {
    stroke: var(--copper);
  }
  .outline.receiver {
    stroke: var(--steel);
  }
  .leader {
    stroke: var(--ink);
    stroke-width: 1;
    fill: none;
  }
  text.here {
    font-weight: 650;
  }
  text.zone {
    fill: var(--soft);
  }
  text.step {
    fill: var(--ink);
    fill-opacity: 0.85;
    stroke-opacity: 0.7;
  }
  text.transmitter {
    fill: var(--copper);
  }
  text.receiver {
    fill: var(--steel);
  }
  .ring .knob {
    stroke: var(--steel);
    stroke-width: 3.2;
  }
  .ring .dot {
    fill: var(--steel);
  }
  .turn .knob {
    stroke: var(--steel);
    stroke-width: 2;
  }
  .reading {
    pointer-events: none;
  }
  :host([stale]) .wash {
    opacity: 0.55;
  }
  .wash {
    transition: opacity 0.2s;
  }
  @media (prefers-reduced-motion: reduce) {
    .wash {
      transition: none;
    }
  }
  .legend {
    list-style: none;
    margin: 4px 0 0;
    padding: 0 0 0 30px;
    display: flex;
    flex-wrap: wrap;
    gap: 2px 16px;
    min-height: 38px;
    color: var(--soft);
  }
  .legend li {
    display: flex;
    align-items: center;
    gap: 7px;
  }
`;
