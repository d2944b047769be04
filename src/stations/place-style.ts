import { css } from 'lit';

export const placeStyle = css`
  .figs {
    display: grid;
    grid-template-columns: minmax(0, 1.42fr) minmax(0, 1fr);
    gap: 26px 40px;
    align-items: start;
  }
  .right {
    display: grid;
    gap: 18px;
    min-width: 0;
  }
  .lines {
    display: grid;
    grid-template-columns: minmax(0, 1.12fr) minmax(0, 1fr);
    gap: 6px 16px;
    /* Both titles with their ways to take them along in one row each, from 1280 px up. */
    --size-text: 13.5px;
  }
  .slide {
    margin: 8px 6px 0 108px;
  }
  .slide output {
    min-width: 4.6em;
    text-align: right;
    font-variant-numeric: tabular-nums;
  }
  @media (max-width: 900px) {
    .figs {
      grid-template-columns: minmax(0, 1fr);
    }
    .slide {
      margin-left: 30px;
    }
  }
  @media (max-width: 460px) {
    .lines {
      grid-template-columns: minmax(0, 1fr);
      row-gap: 20px;
    }
  }
`;
