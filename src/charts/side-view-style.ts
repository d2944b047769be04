import { css } from 'lit';

export const sideViewStyle = css`
  .empty {
    height: 180px;
  }
  .slab {
    stroke: none;
  }
  .slab.wood {
    fill: var(--layer-wood);
  }
  .slab.textile {
    fill: var(--layer-soft);
  }
  .slab.plastic,
  .slab.glass,
  .slab.stone {
    fill: var(--layer-plain);
  }
  .slab.air {
    fill: var(--sheet);
  }
  .slab.ferrite {
    fill: var(--ferrite);
  }
  .slab.metal {
    fill: var(--metal);
  }
  .slab.marked {
    stroke: var(--ink);
    stroke-width: 1.5;
  }
  .leader {
    fill: none;
    stroke: var(--soft);
    stroke-opacity: 0.55;
    stroke-width: 0.8;
  }
  .conductors.transmitter {
    fill: var(--copper);
  }
  .conductors.receiver {
    fill: var(--steel);
  }
  .centre {
    stroke-width: 1;
    stroke-dasharray: 10 3 2 3;
    stroke-opacity: 0.8;
  }
  .centre.transmitter {
    stroke: var(--copper);
  }
  .centre.receiver {
    stroke: var(--steel);
  }
  .ring .knob {
    stroke: var(--steel);
    stroke-width: 2.6;
  }
  .ring .dot {
    fill: var(--steel);
  }
  .layer {
    cursor: ns-resize;
  }
  .layer .knob {
    stroke: var(--soft);
    stroke-width: 1.4;
  }
  .layer:hover .knob,
  .layer:focus-visible .knob {
    stroke: var(--ink);
  }
  .label {
    white-space: nowrap;
  }
`;
