import { css } from 'lit';

export const pairStyle = css`
  .figs {
    display: grid;
    grid-template-columns: minmax(0, 1.42fr) minmax(0, 1fr);
    gap: 26px 40px;
    align-items: start;
  }
  oc-link-view {
    --view-height: clamp(320px, calc(100vh - 400px), 600px);
  }
  oc-dimension {
    /* Tall enough for a finger: 24 px, WCAG 2.2, 2.5.8. */
    line-height: 24px;
  }
  oc-rivals {
    margin-top: 32px;
    padding-top: 8px;
    border-top: 1px solid var(--rule);
  }
  .right {
    display: grid;
    gap: 22px;
    min-width: 0;
  }
  .looks {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 16px;
    margin: 8px 0 10px;
    color: var(--soft);
  }
  .switch {
    all: unset;
    cursor: pointer;
    color: var(--ink);
    margin-left: 14px;
    display: inline-flex;
    align-items: baseline;
    gap: 7px;
  }
  .switch::before {
    content: '';
    width: 11px;
    height: 11px;
    border: 1.5px solid var(--soft);
    border-radius: 2px;
    align-self: center;
  }
  .switch[aria-pressed='true']::before {
    background: var(--ink);
    border-color: var(--ink);
    box-shadow: inset 0 0 0 1.5px var(--paper);
  }
  .switch:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
    border-radius: 2px;
  }
  .said {
    font-variant-numeric: tabular-nums;
  }
  .shapes {
    display: flex;
    flex-wrap: wrap;
    gap: 10px 44px;
  }
  .facts {
    margin: 2px 0 0;
    color: var(--soft);
    font-size: var(--size-small);
    font-variant-numeric: tabular-nums;
  }
  .sizes {
    display: flex;
    flex-wrap: wrap;
    gap: 8px 44px;
    margin-bottom: 12px;
  }
  .sizes h3 {
    font: 600 14px/1.4 var(--font-text);
    margin: 0 0 2px;
  }
  .sizes p {
    display: flex;
    justify-content: space-between;
    gap: 20px;
    margin: 0;
  }
  .sizes span {
    color: var(--soft);
  }
  .numbers {
    border-collapse: collapse;
    width: 100%;
    font-variant-numeric: tabular-nums;
  }
  .numbers th,
  .numbers td {
    padding: 5px 0 5px 14px;
    text-align: right;
    border-bottom: 1px solid var(--rule);
    font-weight: 400;
    white-space: nowrap;
  }
  .numbers th[scope='row'] {
    text-align: left;
    color: var(--soft);
    padding-left: 0;
    white-space: normal;
  }
  .numbers td {
    font-weight: 500;
  }
  .numbers .transmitter {
    color: var(--copper);
  }
  .numbers .receiver {
    color: var(--steel);
  }
  @media (max-width: 900px) {
    .figs {
      grid-template-columns: minmax(0, 1fr);
    }
    oc-link-view {
      --view-height: 340px;
    }
  }
  @media (max-width: 420px) {
    .numbers th,
    .numbers td {
      padding-left: 8px;
      font-size: 14px;
    }
    .numbers td {
      white-space: normal;
    }
  }
`;
