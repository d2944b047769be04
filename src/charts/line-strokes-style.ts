import { css } from 'lit';

/** Up to four lines told apart by colour and by dash, each with a stroke across where it ends. */
export const lineStrokesStyle = css`
  .curve {
    fill: none;
    stroke-width: 2;
    pointer-events: none;
  }
  .end {
    stroke-width: 2.4;
    fill: none;
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
  .reading {
    pointer-events: none;
  }
  :host([stale]) .curve,
  :host([stale]) .end {
    opacity: 0.45;
  }
`;
