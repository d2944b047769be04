import { html, type TemplateResult } from 'lit';
import { chartPng, chartSvg } from '../charts/export.ts';
import '../parts/oc-figure.ts';
import type { ExportRequestedDetail, Figure, FigureFormat } from '../parts/oc-figure.ts';
import { fileNameOf } from '../state/design-text.ts';
import type { Session } from '../state/session.ts';
import { termOf } from './labels.ts';
import { saveFile } from './save-file.ts';

export interface FigureSpec {
  readonly title: string;
  /** What to do with it. */
  readonly hint: string;
  /** What stands under the pointer; takes the hint's place. */
  readonly reading?: string | null;
  /** The drawing, to be copied or saved. */
  readonly chart: () => HTMLElement | null;
  /** The numbers behind it; null: there are none yet. */
  readonly csv: (() => string) | null;
  readonly body: TemplateResult;
  /** Other ways to a picture, for what is not drawn as SVG. */
  readonly png?: () => Promise<Blob | null>;
  readonly svg?: () => string | null;
}

const TYPES: Readonly<Record<FigureFormat, string>> = Object.freeze({
  svg: 'image/svg+xml',
  png: 'image/png',
  csv: 'text/csv',
});

async function contentOf(spec: FigureSpec, format: FigureFormat): Promise<Blob | null> {
  if (format === 'csv') return spec.csv ? new Blob([spec.csv()], { type: TYPES.csv }) : null;
  if (format === 'png' && spec.png) return spec.png();
  if (format === 'svg' && spec.svg) {
    const text = spec.svg();
    return text === null ? null : new Blob([text], { type: TYPES.svg });
  }
  const chart = spec.chart();
  if (!chart) return null;
  return format === 'png' ? chartPng(chart, spec.title) : new Blob([chartSvg(chart, spec.title)], { type: TYPES.svg });
}

async function take(session: Session, spec: FigureSpec, detail: ExportRequestedDetail, from: Figure): Promise<void> {
  const copied = detail.action === 'copy';
  try {
    const content = await contentOf(spec, detail.format);
    if (!content) {
      from.tell('nothing to take along yet');
      return;
    }
    if (detail.action === 'save') {
      const design = session.store.document.value.title ?? '';
      saveFile(fileNameOf(`${design} ${spec.title}`, detail.format), content);
    } else if (detail.format === 'png') {
      await navigator.clipboard.write([new ClipboardItem({ [TYPES.png]: content })]);
    } else await navigator.clipboard.writeText(await content.text());
    from.tell(copied ? 'copied' : 'saved');
  } catch {
    session.notice.value = copied
      ? 'The browser did not let the page copy that. Save it as a file instead.'
      : 'The browser could not make a file of this figure.';
  }
}

/** A figure with its caption, and ways to take it along. */
export function figure(session: Session, spec: FigureSpec): TemplateResult {
  const term = termOf(spec.title);
  const formats: FigureFormat[] = ['svg', 'png'];
  if (spec.csv) formats.push('csv');
  return html`<oc-figure
    heading=${spec.title}
    meaning=${term?.meaning ?? ''}
    formula=${term?.formula ?? ''}
    source=${term?.source ?? ''}
    hint=${spec.hint}
    reading=${spec.reading ?? ''}
    .formats=${formats}
    @export-requested=${(event: CustomEvent<ExportRequestedDetail>) =>
      void take(session, spec, event.detail, event.currentTarget as Figure)}
  >
    ${spec.body}
  </oc-figure>`;
}
