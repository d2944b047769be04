import { css } from 'lit';

export const designMenuStyle = css`
  :host {
    display: flex;
    align-items: baseline;
    justify-content: flex-end;
    gap: 4px 14px;
    color: var(--soft);
  }
  button {
    all: unset;
    cursor: pointer;
  }
  button:focus-visible,
  input:focus-visible,
  summary:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
    border-radius: 2px;
  }
  button:disabled {
    cursor: default;
    opacity: 0.55;
  }
  .title {
    display: flex;
    align-items: baseline;
    gap: 7px;
    color: var(--ink);
    min-width: 0;
  }
  .title .text {
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    max-width: 22em;
  }
  .fold {
    align-self: center;
    width: 7px;
    height: 7px;
    border-right: 1.5px solid var(--soft);
    border-bottom: 1.5px solid var(--soft);
    transform: translateY(-2px) rotate(45deg);
    flex: none;
  }
  .state {
    display: flex;
    align-items: baseline;
    gap: 14px;
    white-space: nowrap;
  }
  .state > span {
    min-width: 5.4em;
    text-align: right;
  }
  .quiet {
    color: inherit;
    text-decoration: underline;
    text-decoration-color: var(--rule);
    text-underline-offset: 3px;
  }
  .quiet:hover:not(:disabled) {
    text-decoration-color: var(--ink);
    color: var(--ink);
  }
  .bad {
    color: var(--bad);
  }
  #menu {
    color: var(--ink);
    background: var(--sheet);
    border: 1px solid var(--rule);
    box-shadow: 0 6px 24px rgb(0 0 0 / 0.14);
    padding: 16px 20px;
    width: min(480px, calc(100vw - 24px));
    max-height: calc(100vh - 80px);
    overflow: auto;
    margin: 0;
    inset: auto;
    top: 58px;
    right: max(12px, calc(50vw - 672px));
  }
  #menu h2 {
    font: 600 15px/1.4 var(--font-text);
    margin: 16px 0 4px;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 20px;
    margin: 8px 0;
  }
  .field {
    display: grid;
    gap: 2px;
  }
  .field span {
    color: var(--soft);
    font-size: var(--size-small);
  }
  .field input,
  .link {
    font: inherit;
    color: inherit;
    background: none;
    border: 0;
    border-bottom: 1px dashed var(--soft);
    padding: 3px 0;
  }
  .link {
    width: 100%;
    box-sizing: border-box;
  }
  .told {
    min-height: 1.45em;
    margin: 0;
    color: var(--soft);
  }
  .starts {
    list-style: none;
    padding: 0;
    margin: 0;
  }
  .starts li {
    margin-bottom: 6px;
  }
  .starts span {
    color: var(--soft);
    display: block;
    font-size: var(--size-small);
  }
  .choice {
    display: inline-flex;
    gap: 6px;
    align-items: center;
  }
  input[type='radio'] {
    accent-color: var(--ink);
    margin: 0;
  }
  dialog {
    color: var(--ink);
    background: var(--sheet);
    border: 1px solid var(--rule);
    padding: 18px 24px;
    width: min(720px, calc(100vw - 24px));
    max-height: calc(100vh - 40px);
    overflow: auto;
  }
  dialog::backdrop {
    background: rgb(0 0 0 / 0.35);
  }
  dialog h2 {
    font: 400 24px/1.3 var(--font-book);
    margin: 0 0 10px;
  }
  table {
    border-collapse: collapse;
    margin-bottom: 14px;
  }
  th {
    text-align: left;
    font-weight: 600;
    padding: 4px 24px 4px 0;
    white-space: nowrap;
    vertical-align: top;
  }
  td {
    padding: 4px 0;
  }
  dl {
    display: grid;
    grid-template-columns: minmax(8em, auto) 1fr;
    gap: 6px 20px;
    margin: 0 0 14px;
  }
  dt {
    font-weight: 600;
  }
  dd {
    margin: 0;
  }
  dd small {
    display: block;
    color: var(--soft);
  }
  .formula {
    font-family: var(--font-book);
    white-space: nowrap;
  }
  @media (max-width: 720px) {
    .title .text {
      max-width: 40vw;
    }
    .state > span {
      display: none;
    }
    dl {
      grid-template-columns: 1fr;
      gap: 2px;
    }
    dd {
      margin-bottom: 8px;
    }
  }
`;
