import { css } from 'lit';

export const proveEfficiencyStyle = css`
  .curve {
    fill: none;
    stroke-width: 2;
    pointer-events: none;
  }
  .end {
    stroke-width: 2.6;
    fill: none;
  }
  .s0 {
    stroke: var(--ink);
  }
  .s1 {
    stroke: var(--copper);
  }
  .s2 {
    stroke: var(--steel);
  }
  .s3 {
    stroke: var(--second);
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
  .point {
    fill: var(--sheet);
    stroke-width: 2;
  }
  .point.read {
    fill: var(--ink);
  }
  .collapsed {
    fill: none;
    stroke-width: 2.2;
  }
  .bar {
    stroke-width: 1.2;
    stroke-opacity: 0.8;
  }
  text.t0 {
    fill: var(--ink);
  }
  text.t1 {
    fill: var(--copper);
  }
  text.t2 {
    fill: var(--steel);
  }
  text.t3 {
    fill: var(--second);
  }
  .reading {
    pointer-events: none;
  }
  :host([stale]) .curve,
  :host([stale]) .end {
    opacity: 0.4;
  }
`;
