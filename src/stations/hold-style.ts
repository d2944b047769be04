import { css } from 'lit';

export const holdStyle = css`
  .figs {
    display: grid;
    grid-template-columns: minmax(0, 1.36fr) minmax(0, 1fr);
    grid-template-areas:
      'plan forces'
      'lottery forces';
    grid-template-rows: auto 1fr;
    gap: 22px 40px;
    align-items: start;
  }
  /* Without magnets the forces are few: what casual placements do stands beneath them. */
  .figs.bare {
    grid-template-areas:
      'plan forces'
      'plan lottery';
  }
  .figs > * {
    min-width: 0;
  }
  .plan {
    grid-area: plan;
  }
  .lottery {
    grid-area: lottery;
  }
  .forces {
    grid-area: forces;
  }
  oc-answer {
    /* So that the plan does not move under the hand that drags in it. */
    --answer-lines: 3;
    --why-lines: 2;
  }
  .choices {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 30px;
    align-items: baseline;
    margin: 0 0 12px;
    min-height: 32px;
  }
  .choices oc-progress {
    margin-left: auto;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 22px;
    margin: 6px 0 0;
  }
  .pair {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 24px;
    align-items: center;
    margin-top: 8px;
  }
  oc-magnet-section {
    flex: 0 1 250px;
    min-width: 200px;
  }
  .pair .row {
    flex: 1 1 180px;
  }
  oc-hold-placing {
    display: block;
    margin-top: 10px;
  }
  oc-dimension {
    /* Tall enough for a finger: 24 px, WCAG 2.2, 2.5.8. */
    line-height: 24px;
  }
  .beneath {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 26px;
    align-items: baseline;
    margin-top: 4px;
  }
  .said {
    margin: 6px 0 0;
    color: var(--soft);
    font-size: var(--size-small);
    max-width: 72ch;
  }
  h3 {
    margin: 0 0 4px;
    font: 600 var(--size-text) / 1.45 var(--font-text);
    color: var(--ink);
  }
  .files {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 18px;
    margin: 0;
  }
  .files button.quiet {
    line-height: 26px;
  }
  .numbers {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(100%, 270px), 1fr));
    gap: 14px 40px;
    margin-top: 22px;
    border-top: 1px solid var(--rule);
    padding-top: 14px;
  }
  .forces .list {
    margin-top: 20px;
  }
  .list ul {
    margin: 0;
    padding: 0;
    list-style: none;
    font-size: var(--size-small);
    color: var(--soft);
    font-variant-numeric: tabular-nums;
  }
  .list li {
    margin-bottom: 3px;
  }
  .list b {
    font-weight: 600;
    color: var(--ink);
  }
  .cautions {
    margin-top: 12px;
  }
  @media (max-width: 900px) {
    .figs,
    .figs.bare {
      grid-template: 'plan' 'lottery' 'forces' / minmax(0, 1fr);
    }
    /* A line of its own, so that it keeps its room once it has nothing to say. */
    .choices oc-progress {
      margin-left: 0;
      flex: 0 0 100%;
    }
  }
  @media (max-width: 720px) {
    oc-answer {
      --answer-lines: 5;
      --why-lines: 7;
    }
  }
`;
