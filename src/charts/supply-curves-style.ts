import { css } from 'lit';

export const supplyCurvesStyle = css`
  .dot {
    fill: var(--sheet);
    stroke-width: 2;
  }
  .thin {
    stroke-width: 1;
    stroke-opacity: 0.75;
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
`;
