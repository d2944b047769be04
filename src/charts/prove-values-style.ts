import { css } from 'lit';

export const proveValuesStyle = css`
  .row {
    fill: var(--grid);
  }
  text.name {
    fill: var(--ink);
  }
  text.value {
    fill: var(--soft);
  }
  .prior {
    fill: none;
    stroke: var(--soft);
    stroke-width: 1.2;
  }
  .middle {
    stroke: var(--rule);
    stroke-width: 1;
  }
  .fitted {
    fill: var(--soft);
    opacity: 0.55;
  }
  .fitted.readings {
    fill: var(--steel);
    opacity: 1;
  }
  .best {
    stroke: var(--ink);
    stroke-width: 2;
  }
  .handle {
    pointer-events: none;
  }
  :host([stale]) .fitted,
  :host([stale]) .best {
    opacity: 0.4;
  }
`;
