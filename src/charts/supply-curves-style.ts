import { css } from 'lit';

export const supplyCurvesStyle = css`
  .curve {
    fill: none;
    stroke-width: 2;
    pointer-events: none;
  }
  .end {
    stroke-width: 2.4;
    fill: none;
  }
  .dot {
    fill: var(--sheet);
    stroke-width: 2;
  }
  .s0 {
    stroke: var(--ink);
  }
  .s1 {
    stroke: var(--second);
  }
  .s2 {
    stroke: var(--steel);
  }
  .s3 {
    stroke: var(--copper);
  }
  .s1.curve {
    stroke-dasharray: 9 4;
  }
  .s2.curve {
    stroke-dasharray: 3 3;
  }
  .s3.curve {
    stroke-dasharray: 10 3 2 3;
  }
  .thin {
    stroke-width: 1;
    stroke-opacity: 0.75;
  }
  text.t0 {
    fill: var(--ink);
  }
  text.t1 {
    fill: var(--second);
  }
  text.t2 {
    fill: var(--steel);
  }
  text.t3 {
    fill: var(--copper);
  }
  text.taken {
    font-weight: 650;
  }
  .demand {
    stroke: var(--ink);
    stroke-width: 1.4;
    stroke-dasharray: 8 5;
    stroke-opacity: 0.8;
  }
  text.asked {
    fill: var(--soft);
  }
  .reading {
    pointer-events: none;
  }
  :host([stale]) .curve,
  :host([stale]) .end {
    opacity: 0.45;
  }
`;
