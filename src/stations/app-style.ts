import { css } from 'lit';

export const appStyle = css`
  :host {
    display: block;
    width: min(1376px, 100%);
    margin: 0 auto;
    padding: 20px 32px 40px;
  }
  .skip {
    position: absolute;
    left: 16px;
    top: -60px;
    background: var(--sheet);
    color: var(--ink);
    border: 1px solid var(--ink);
    font: inherit;
    padding: 8px 12px;
    z-index: 5;
  }
  .skip:focus {
    top: 8px;
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 8px 30px;
    border-bottom: 1px solid var(--rule);
    padding-bottom: 9px;
  }
  .name {
    font: 620 20px/1.3 var(--font-book);
    letter-spacing: 0.005em;
    color: var(--ink);
    text-decoration: none;
  }
  .name .shifted {
    position: relative;
    top: 0.13em;
  }
  nav {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 22px;
  }
  nav a {
    color: var(--soft);
    text-decoration: none;
    padding: 2px 0 3px;
    border-bottom: 2px solid transparent;
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
  oc-design-menu {
    margin-left: auto;
    min-width: 0;
  }
  a:focus-visible,
  button:focus-visible,
  summary:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
    border-radius: 2px;
  }
  /* At least as high as the window: the foot of the page is never pushed down before the reader's eyes. */
  main {
    display: flow-root;
    min-height: calc(100vh - 90px);
  }
  main:focus {
    outline: none;
  }
  button.quiet {
    all: unset;
    cursor: pointer;
    color: var(--ink);
    text-decoration: underline;
    text-decoration-color: var(--rule);
    text-underline-offset: 3px;
  }
  button.quiet:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
  .messages {
    position: relative;
  }
  .work {
    position: absolute;
    right: 0;
    top: 6px;
    color: var(--soft);
    font-size: var(--size-small);
    display: flex;
    gap: 10px;
  }
  /* Over the page's foot, so that what is under the hand does not move when something is said. */
  .notices {
    position: fixed;
    left: max(12px, calc(50vw - 656px));
    right: max(12px, calc(50vw - 656px));
    bottom: 12px;
    z-index: 4;
    display: grid;
    gap: 8px;
    justify-items: start;
    pointer-events: none;
  }
  .notice,
  .welcome {
    margin: 0;
    padding: 8px 14px 9px;
    border: 1px solid var(--rule);
    border-left: 3px solid var(--bad);
    background: var(--sheet);
    box-shadow: 0 4px 18px rgb(0 0 0 / 0.13);
    max-width: min(80em, 100%);
    max-height: 38vh;
    overflow: auto;
    pointer-events: auto;
  }
  .welcome {
    border-left-color: var(--ink);
  }
  .notice p {
    margin: 0 0 4px;
  }
  .notice button + button {
    margin-left: 12px;
  }
  .notice time {
    white-space: nowrap;
  }
  .notice ul {
    margin: 0;
    padding-left: 18px;
  }
  .to-come {
    min-height: 100vh;
  }
  .to-come h1 {
    font: 400 clamp(22px, 2.35vw, 32px) / 1.28 var(--font-book);
    margin: 20px 0 6px;
  }
  .to-come p {
    color: var(--soft);
    max-width: 60em;
  }
  footer {
    margin-top: 34px;
    padding-top: 12px;
    border-top: 1px solid var(--rule);
    color: var(--soft);
    font-size: 13.5px;
    display: grid;
    grid-template-columns: 1.42fr 1fr;
    gap: 14px 40px;
  }
  footer h2 {
    font: 600 13.5px/1.4 var(--font-text);
    margin: 0 0 4px;
    color: var(--ink);
  }
  footer ul {
    margin: 0;
    padding-left: 16px;
  }
  footer li {
    margin-bottom: 3px;
  }
  .drop {
    position: fixed;
    inset: 0;
    display: grid;
    place-items: center;
    background: color-mix(in srgb, var(--paper) 80%, transparent);
    border: 3px dashed var(--ink);
    font: 400 28px var(--font-book);
    z-index: 10;
    pointer-events: none;
  }
  @media (max-width: 720px) {
    :host {
      padding: 12px 16px 28px;
    }
    header {
      gap: 4px 18px;
    }
    nav {
      gap: 2px 15px;
      order: 3;
      width: 100%;
    }
    oc-design-menu {
      flex: 1;
    }
    footer {
      grid-template-columns: 1fr;
    }
  }
  /* The sheet carries its own cautions. */
  :host([page='report']) footer {
    display: none;
  }
  :host([embedded]) header,
  :host([embedded]) footer {
    display: none;
  }
  :host([embedded]) main {
    min-height: 0;
  }
  @media print {
    :host {
      padding: 0;
      width: auto;
    }
    main {
      min-height: 0;
    }
    nav,
    oc-design-menu,
    .messages,
    .skip,
    :host([page='report']) header,
    :host([page='report']) footer {
      display: none;
    }
  }
`;
