import { html, nothing, type TemplateResult } from 'lit';
import type { DesignDocument } from '../design/schema.ts';
import { designText, fileNameOf } from '../state/design-text.ts';
import type { Apart } from '../state/kept-apart.ts';
import type { Session } from '../state/session.ts';
import { saveFile } from './save-file.ts';

/** Saves a design as a file. */
export function saveDesign(document: DesignDocument): void {
  saveFile(fileNameOf(document.title ?? '', 'json'), new Blob([designText(document)], { type: 'application/json' }));
}

/** Day and time without the machine's language: the page is in English. */
function timeText(ms: number): string {
  const at = new Date(ms);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

function apartSentence({ why, session }: Apart): TemplateResult {
  const when = session === null || session.savedAt === 0 ? nothing : html` (<time>${timeText(session.savedAt)}</time>)`;
  if (why === 'link') return html`The design you had before you opened a link is still kept${when}.`;
  if (why === 'newer') return html`A design that a newer version of the program kept is set aside here.`;
  if (why === 'damaged') return html`Something of yours that could not be read is set aside here.`;
  return html`Another tab kept a version of its own${when}.`;
}

/** What concerns the keeping of the design: that it cannot be kept, that two pages changed it, what is set aside. */
export function keptNotices({ autosave, store }: Session): TemplateResult | typeof nothing {
  const state = autosave.state.value;
  const rival = autosave.rival.value;
  const apart = autosave.apart.found.value[0];
  if (state.kind === 'failed') {
    return html`<p class="notice" role="alert">
      ${state.message}
      <button class="quiet" @click=${() => saveDesign(store.document.value)}>save as a file</button>
    </p>`;
  }
  if (rival !== null) {
    return html`<p class="notice" role="alert">
      Another tab has changed the design since this one saw it; both versions are kept.
      <button class="quiet" @click=${() => void autosave.keepOwn()}>go on with this one</button>
      <button class="quiet" @click=${() => void autosave.takeRival()}>go on with the other</button>
    </p>`;
  }
  if (apart === undefined) return nothing;
  const { session } = apart;
  return html`<p class="notice" role="status">
    ${apartSentence(apart)}
    ${session === null ? nothing : html`<button class="quiet" @click=${() => void autosave.open(apart)}>open it</button>`}
    <button
      class="quiet"
      @click=${() => (session ? saveDesign(session.document) : saveFile('set-aside.json', new Blob([apart.text])))}
    >
      save as a file
    </button>
    <button class="quiet" @click=${() => void autosave.apart.remove(apart)}>throw it away</button>
    <button class="quiet" @click=${() => autosave.apart.leave(apart)}>later</button>
  </p>`;
}
