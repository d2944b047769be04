import { css } from 'lit';

export const proveValuesStyle = css`
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
  :host([stale]) .fitted,
  :host([stale]) .best {
    opacity: 0.4;
  }
`;
