import { css } from 'lit';

/** A slider in a row with its name. */
export const slideStyle = css`
  .slide {
    display: flex;
    align-items: center;
    gap: 12px;
    margin: 4px 0;
  }
  .slide label {
    color: var(--soft);
  }
  .slide input {
    flex: 1;
    min-width: 0;
    accent-color: var(--ink);
    margin: 0;
    height: 24px;
  }
`;
