import { css } from 'lit';

export const proveEfficiencyStyle = css`
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
`;
