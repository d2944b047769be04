import type { DesignDocument } from '../../design/schema.ts';

export type StackLayer = NonNullable<DesignDocument['stack']>[number];

/** The document with another stack. A gap stated beside it is taken out: the layers now say it. */
export function withStack(document: DesignDocument, stack: StackLayer[]): DesignDocument {
  const { gapMm: _, ...placement } = document.placement ?? {};
  return { ...document, placement, stack };
}
