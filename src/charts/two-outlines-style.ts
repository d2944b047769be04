import { css } from 'lit';

export const twoOutlinesStyle = css`
  .area {
    stroke: none;
    fill-opacity: 0.09;
  }
  .area.first {
    fill: var(--ink);
  }
  .area.second {
    fill: var(--second);
  }
  .line {
    fill: none;
    stroke-linejoin: round;
  }
  .line.first {
    stroke: var(--ink);
    stroke-width: 2.2;
  }
  .line.second {
    stroke: var(--second);
    stroke-width: 2.2;
    stroke-dasharray: 7 4;
  }
  .reach {
    fill: none;
    stroke-width: 1;
    stroke-opacity: 0.7;
  }
  .reach.first {
    stroke: var(--ink);
  }
  .reach.second {
    stroke: var(--second);
    stroke-dasharray: 3 3;
  }
  text.halo.second {
    fill: var(--second);
  }
  .reading {
    cursor: crosshair;
    pointer-events: none;
  }
`;
