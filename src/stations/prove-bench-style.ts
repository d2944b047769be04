import { css } from 'lit';

export const proveBenchStyle = css`
  :host {
    margin-bottom: 20px;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 22px;
    align-items: center;
    margin: 8px 0 0;
  }
  .tools label {
    display: inline-flex;
    gap: 8px;
    align-items: center;
    min-height: 24px;
  }
  .tools input[type='checkbox'] {
    accent-color: var(--ink);
    width: 17px;
    height: 17px;
  }
  .paste {
    margin: 8px 0 0;
  }
  .paste summary {
    cursor: pointer;
    color: var(--soft);
    width: max-content;
    max-width: 100%;
  }
  textarea {
    font: 400 var(--size-small, 13px) / 1.5 ui-monospace, monospace;
    color: var(--ink);
    background: var(--sheet);
    border: 1px solid var(--rule);
    border-radius: 3px;
    width: 100%;
    box-sizing: border-box;
    min-height: 8em;
    margin: 8px 0;
  }
  textarea:focus-visible,
  summary:focus-visible,
  input:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 2px;
  }
  .meters {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 14px;
    align-items: baseline;
    color: var(--soft);
    margin: 8px 0 0;
  }
  .bad {
    color: var(--bad);
    margin: 4px 0 12px;
    padding-left: 1.3em;
  }
  input[type='file'] {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
  }
`;
