import { css } from 'lit';

export const besideStyle = css`
  h2 {
    font: 600 15px/1.4 var(--font-text);
    margin: 0;
  }
  .failure {
    color: var(--bad);
  }
  .copy {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 8px 18px;
    margin: 22px 0 26px;
    color: var(--soft);
  }
  .do {
    all: unset;
    cursor: pointer;
    padding: 8px 16px;
    border-radius: 3px;
    background: var(--ink);
    color: var(--paper);
    font-weight: 500;
  }
  .do:hover {
    background: color-mix(in srgb, var(--ink) 86%, var(--paper));
  }
  .do:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
  .choices {
    list-style: none;
    margin: 0;
    padding: 0;
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(100%, 280px), 1fr));
    gap: 0 40px;
  }
  .choices li {
    border-top: 1px solid var(--rule);
    padding: 12px 0 16px;
  }
  .choices button {
    font-weight: 600;
  }
  .choices span {
    display: block;
    color: var(--soft);
  }
  .two {
    display: grid;
    grid-template-columns: 1fr 1fr;
    gap: 12px 40px;
  }
  .two section {
    border-left: 3px solid var(--ink);
    padding-left: 14px;
    min-width: 0;
  }
  .two .there {
    border-left: 3px dashed var(--second);
  }
  .two h2 {
    color: var(--soft);
    font-weight: 400;
    font-size: var(--size-small);
  }
  .there h2,
  th.second {
    color: var(--second);
  }
  .name {
    font-weight: 600;
    margin: 0;
    overflow-wrap: anywhere;
  }
  .says {
    font: 400 17px/1.4 var(--font-book);
    margin: 4px 0 0;
    min-height: 4.2em;
  }
  .faults {
    margin: 4px 0 0;
    padding-left: 1.2em;
    color: var(--bad);
    min-height: 4.2em;
    overflow-wrap: anywhere;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 20px;
    margin: 12px 0 22px;
  }
  button:disabled {
    opacity: 0.55;
    cursor: default;
  }
  .figs {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1.15fr);
    gap: 26px 40px;
    align-items: start;
  }
  table {
    border-collapse: collapse;
    width: 100%;
    font-variant-numeric: tabular-nums;
  }
  th,
  td {
    padding: 5px 0 5px 14px;
    text-align: right;
    border-bottom: 1px solid var(--rule);
    font-weight: 400;
    vertical-align: baseline;
  }
  th[scope='row'] {
    text-align: left;
    color: var(--soft);
    padding-left: 0;
  }
  .numbers th[scope='row']::first-letter {
    text-transform: uppercase;
  }
  td {
    font-weight: 500;
  }
  td span {
    white-space: nowrap;
  }
  td .band {
    font-weight: 400;
    color: var(--soft);
  }
  /* Every number has its line for what it may be, which comes later: no row moves. */
  .numbers {
    table-layout: fixed;
  }
  .numbers thead > tr > :first-child {
    width: 30%;
  }
  .numbers tbody tr {
    height: 50px;
  }
  .numbers tbody > tr > * {
    vertical-align: top;
  }
  td .band,
  td small {
    display: block;
    font-size: var(--size-small);
    font-weight: 400;
  }
  td.within,
  td.same,
  td.unknown {
    color: var(--soft);
    font-weight: 400;
  }
  .what {
    margin-top: 30px;
  }
  .what table {
    margin-top: 6px;
    width: auto;
    min-width: min(860px, 100%);
    max-width: 100%;
  }
  .what th,
  .what td {
    text-align: left;
    padding: 5px 28px 5px 0;
  }
  .what td.take {
    padding-right: 0;
    text-align: right;
    white-space: nowrap;
  }
  .what p {
    color: var(--soft);
    margin: 4px 0 0;
  }
  @media (max-width: 900px) {
    .two,
    .figs {
      grid-template-columns: minmax(0, 1fr);
    }
    .numbers th,
    .numbers td {
      padding-left: 8px;
    }
    .numbers th[scope='row'] {
      padding-left: 0;
    }
  }
  /* One thing that differs beneath the other, both values side by side under its name. */
  @media (max-width: 640px) {
    .numbers thead > tr > :first-child {
      width: 25%;
    }
    td .band,
    td small {
      font-size: 12px;
    }
    .what thead {
      display: none;
    }
    .what table,
    .what tbody {
      display: block;
    }
    .what tr {
      display: grid;
      grid-template-columns: 1fr 1fr auto;
      gap: 0 16px;
      align-items: baseline;
      padding: 7px 0 8px;
      border-bottom: 1px solid var(--rule);
    }
    .what th,
    .what td {
      padding: 0;
      border: 0;
    }
    .what th {
      grid-column: 1 / -1;
    }
    .what td[data-of]::before {
      content: attr(data-of);
      display: block;
      font-weight: 400;
      font-size: var(--size-small);
      color: var(--soft);
    }
    .what td.take {
      align-self: end;
    }
  }
  @media (max-width: 380px) {
    td span {
      white-space: normal;
    }
  }
`;
