import { css } from 'lit';

export const lessonStyle = css`
  nav ol {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 22px;
    list-style: none;
    margin: 18px 0 0;
    padding: 0;
  }
  nav a {
    color: var(--soft);
    text-decoration: none;
    border-bottom: 2px solid transparent;
    padding: 3px 0;
    display: inline-block;
    min-height: 24px;
  }
  nav a:hover {
    color: var(--ink);
  }
  nav a[aria-current='page'] {
    color: var(--ink);
    border-bottom-color: var(--ink);
  }
  /* Where the system sets the colours, what is transparent is drawn: only the place where one is may have a line. */
  @media (forced-colors: active) {
    nav a:not([aria-current='page']) {
      border-bottom-color: Canvas;
    }
  }
  nav a:focus-visible,
  p a:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
  nav .number {
    font: 400 17px/1 var(--font-book);
    margin-right: 5px;
  }
  .page {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1.55fr);
    gap: 20px 48px;
    align-items: start;
  }
  h2 {
    font: 600 var(--size-text, 15px) / 1.45 var(--font-text);
    margin: 0 0 6px;
  }
  fieldset {
    border: 0;
    margin: 0;
    padding: 0;
    min-width: 0;
  }
  legend {
    font: 400 19px/1.42 var(--font-book);
    padding: 0;
    margin-bottom: 8px;
  }
  label {
    display: flex;
    gap: 10px;
    align-items: baseline;
    padding: 5px 0;
    cursor: pointer;
    min-height: 24px;
  }
  label input {
    accent-color: var(--ink);
    margin: 0;
    flex: none;
  }
  label.right {
    font-weight: 600;
  }
  .said {
    color: var(--soft);
  }
  .because {
    border-left: 2px solid var(--ink);
    padding-left: 12px;
    margin: 10px 0 0;
  }
  .reading {
    font-variant-numeric: tabular-nums;
    margin: 4px 0 0;
    min-height: 2.9em;
  }
  ul {
    margin: 0 0 4px;
    padding-left: 1.1em;
  }
  li {
    margin: 4px 0;
  }
  .equation {
    font: 400 17px/1.5 var(--font-book);
    margin: 0 0 6px;
  }
  .soft {
    color: var(--soft);
    font-size: var(--size-small, 13px);
    line-height: 1.5;
  }
  .below {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    gap: 18px 48px;
    margin-top: 22px;
    border-top: 1px solid var(--rule);
    padding-top: 16px;
  }
  .below p {
    margin: 0 0 6px;
  }
  .ways {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 24px;
    margin-top: 22px;
  }
  .ways a,
  .ways button {
    min-height: 24px;
  }
  a {
    color: var(--ink);
  }
  .sheet section {
    break-inside: avoid;
    border-top: 1px solid var(--rule);
    padding: 14px 0;
    max-width: 60em;
  }
  .sheet h2 {
    font: 400 22px/1.3 var(--font-book);
  }
  .sheet h3 {
    font: 600 14px/1.4 var(--font-text);
    margin: 8px 0 2px;
  }
  .sheet p,
  .sheet ol {
    margin: 0 0 4px;
  }
  .sheet ol {
    padding-left: 1.6em;
    list-style: lower-alpha;
  }
  @media (max-width: 900px) {
    .page,
    .below {
      grid-template-columns: minmax(0, 1fr);
    }
  }
  @media print {
    nav,
    .ways,
    button {
      display: none;
    }
  }
`;
