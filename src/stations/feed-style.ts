import { css } from 'lit';

export const feedStyle = css`
  oc-answer {
    --why-lines: 2;
  }
  .flow {
    margin-bottom: 22px;
  }
  /* Three lines, for the notes that come with the operating point. */
  .notes {
    display: flow-root;
    min-height: 82px;
  }
  .above {
    display: block;
    margin: 0 0 8px;
  }
  .above.parts {
    margin: 22px 0 14px;
    padding-top: 12px;
    border-top: 1px solid var(--rule);
  }
  .lower {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1.05fr) minmax(0, 1.05fr);
    gap: 26px 40px;
    align-items: start;
  }
  .lower.two {
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    margin-top: 14px;
  }
  h2.plain {
    font: 600 var(--size-text, 15px) / 1.45 var(--font-text);
    margin: 0 0 6px;
    min-height: 26px;
  }
  th,
  td {
    vertical-align: baseline;
  }
  td {
    font-weight: 500;
  }
  thead th {
    color: var(--soft);
    font-size: var(--size-small, 13px);
    line-height: 1.25;
    vertical-align: bottom;
  }
  /* The name stays whole: what wraps is the long value. */
  .chain th {
    white-space: nowrap;
  }
  thead td {
    padding: 0;
  }
  .loads {
    margin-bottom: 6px;
  }
  .edits {
    display: flex;
    gap: 18px;
    margin: 0 0 12px;
    font-size: var(--size-small, 13px);
    line-height: 24px;
  }
  .edit td {
    text-align: left;
    padding-left: 0;
    padding-bottom: 8px;
    font-weight: 400;
    font-size: var(--size-small, 13px);
  }
  .edit div {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 4px 14px;
    min-height: 28px;
  }
  .edit span {
    color: var(--soft);
  }
  .edit label {
    display: flex;
    align-items: center;
    gap: 5px;
    min-height: 24px;
  }
  .edit input[type='text'] {
    width: 9em;
    min-height: 24px;
    border: 0;
    border-bottom: 1px dashed var(--soft);
    background: none;
    color: var(--ink);
    font: inherit;
    padding: 0 1px;
  }
  .edit select {
    min-height: 24px;
    border: 1px solid var(--rule);
    border-radius: 3px;
    background: var(--sheet);
    color: var(--ink);
    font: inherit;
  }
  .edit input[type='checkbox'] {
    accent-color: var(--ink);
    width: 16px;
    height: 16px;
    margin: 0;
  }
  .edit :is(input, select):focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 2px;
  }
  oc-dimension {
    /* Tall enough for a finger: 24 px, WCAG 2.2, 2.5.8. */
    line-height: 24px;
  }
  .band {
    color: var(--soft);
    font-weight: 400;
    font-size: var(--size-small, 13px);
  }
  .band.under {
    display: block;
    line-height: 1.2;
  }
  .bad {
    color: var(--bad);
  }
  .choices {
    display: grid;
    gap: 6px;
    margin: 10px 0 0;
  }
  .said {
    margin: 6px 0 0;
    color: var(--soft);
    font-size: var(--size-small, 13px);
    line-height: 1.45;
  }
  .said b {
    color: var(--ink);
    font-weight: 600;
  }
  .said.bad {
    color: var(--bad);
  }
  .said:empty {
    display: none;
  }
  .adds {
    display: flex;
    gap: 14px;
    white-space: nowrap;
    font-size: var(--size-small, 13px);
  }
  .adds button {
    line-height: 24px;
  }
  .tolerances {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 26px;
    margin: 4px 0 0;
  }
  .slide {
    font-size: var(--size-small, 13px);
  }
  oc-note {
    margin-top: 12px;
  }
  @media (max-width: 1100px) {
    .lower {
      grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    }
  }
  @media (max-width: 720px) {
    .lower,
    .lower.two {
      grid-template-columns: minmax(0, 1fr);
    }
    th,
    td {
      padding-left: 6px;
    }
  }
  @media (max-width: 720px) {
    oc-answer {
      --answer-lines: 5;
      --why-lines: 6;
    }
  }
`;
