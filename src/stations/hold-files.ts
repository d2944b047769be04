import { html, type TemplateResult } from 'lit';
import { mapCsv } from '../analysis/hold/exports/map-csv.ts';
import { mapJson } from '../analysis/hold/exports/map-json.ts';
import { type Paper, placementTemplate } from '../analysis/hold/exports/placement-template.ts';
import { planDxf } from '../analysis/hold/exports/plan-dxf.ts';
import { planShapes } from '../analysis/hold/exports/plan-shapes.ts';
import { mapSvg } from '../analysis/hold/exports/plan-svg.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { OffsetMap } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import { InputError } from '../numerics/errors.ts';
import { fileNameOf } from '../state/design-text.ts';
import type { Session } from '../state/session.ts';
import { spansText } from './answer-line.ts';
import { label } from './glossary.ts';
import { aidOf, holdAnswer } from './hold-words.ts';
import { saveFile } from './save-file.ts';

export interface HoldFile {
  readonly words: string;
  /** Added to the design's name. */
  readonly name: string;
  readonly extension: string;
  readonly type: string;
  readonly text: () => string;
}

/** The tolerance map and the plan as files for other people's programs. */
export function holdFiles(design: Design, map: OffsetMap, report: HoldReport | null): HoldFile[] {
  const { offsetXMm, offsetYMm } = design.placement;
  const rest = report?.magnets?.restBandMm.map((v, k) => v + (k % 2 === 0 ? offsetXMm : offsetYMm)) ?? null;
  const shapes = () => planShapes(design, map, { restBand: rest });
  const template = (paper: Paper) => () =>
    placementTemplate(shapes(), {
      paper,
      title: design.title,
      lines: report ? wrapped(spansText(holdAnswer(report, aidOf(design.holding)))) : [],
    });
  return [
    { words: 'map as CSV', name: 'tolerance map', extension: 'csv', type: 'text/csv', text: () => mapCsv(map) },
    {
      words: 'map as JSON',
      name: 'tolerance map',
      extension: 'json',
      type: 'application/json',
      text: () => mapJson(map, design.title),
    },
    {
      words: 'map as SVG, 1:1',
      name: 'tolerance map',
      extension: 'svg',
      type: 'image/svg+xml',
      text: () => mapSvg(map, shapes(), design.title),
    },
    {
      words: 'plan as DXF, mm',
      name: 'plan',
      extension: 'dxf',
      type: 'image/vnd.dxf',
      text: () => planDxf(shapes(), design.title),
    },
    {
      words: 'placement template, A4',
      name: 'template a4',
      extension: 'svg',
      type: 'image/svg+xml',
      text: template('a4'),
    },
    {
      words: 'placement template, US letter',
      name: 'template letter',
      extension: 'svg',
      type: 'image/svg+xml',
      text: template('letter'),
    },
  ];
}

/** Lines of at most 110 signs, broken at spaces. */
function wrapped(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.replaceAll('\u2060', '').split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + word.length < 110) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Buttons that save them. */
export function holdFileButtons(session: Session, map: OffsetMap | null, report: HoldReport | null): TemplateResult {
  const { design } = session.store.resolved.value;
  const files = map ? holdFiles(design, map, report) : [];
  return html`<section>
    <h3>${label('forTheEnclosure')}</h3>
    <p class="files">
      ${
        map
          ? files.map(
              (file) =>
                html`<button type="button" class="quiet" @click=${() => save(session, file)}>${file.words}</button>`,
            )
          : html`<span>when the map is there</span>`
      }
    </p>
  </section>`;
}

function save(session: Session, file: HoldFile): void {
  try {
    const title = session.store.document.value.title ?? '';
    saveFile(fileNameOf(`${title} ${file.name}`, file.extension), new Blob([file.text()], { type: file.type }));
  } catch (error) {
    // A drawing may be too large for the paper; anything else is a fault of ours.
    if (!(error instanceof InputError)) throw error;
    session.notice.value = error.message;
  }
}
