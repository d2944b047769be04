import { html, nothing, type TemplateResult } from 'lit';
import type { Session } from '../state/session.ts';
import { keptNotices } from './kept-notices.ts';

/** What the page itself has to say beside its session. */
export interface PageMessages {
  /** Whether a first visit is still to be told what to do. */
  readonly welcome: boolean;
  /** What was wrong with the file that was to be opened, line by line. */
  readonly fileFaults: readonly string[];
  readonly putAway: (what: 'welcome' | 'file') => void;
}

/** Whatever has gone wrong or takes long, in one place that is always there. */
export function appMessages(session: Session, page: PageMessages): TemplateResult {
  const { store, answers, notice } = session;
  const faults = store.faults.value.slice(0, 20);
  const progress = answers.progress.value;
  const failure = answers.failure.value;
  return html`<div class="messages">
      <div class="work" role="status">
        ${
          answers.busy.value && progress
            ? html`<span>${progress.stage}, ${Math.round(100 * progress.fraction)} %</span>
                <button class="quiet" @click=${() => answers.stop()}>stop</button>`
            : answers.stopped.value
              ? html`<span>stopped</span>
                  <button class="quiet" @click=${() => answers.goOn()}>go on</button>`
              : nothing
        }
      </div>
      <div class="notices" role="region" aria-label="Messages">
      ${page.welcome ? welcome(session, () => page.putAway('welcome')) : nothing} ${keptNotices(session)}
      ${
        notice.value === null
          ? nothing
          : html`<p class="notice" role="alert">
              ${notice.value}
              <button
                class="quiet"
                @click=${() => {
                  notice.value = null;
                }}
              >
                put away
              </button>
            </p>`
      }
      ${
        failure === null
          ? nothing
          : html`<p class="notice" role="alert">
              ${failure}
              <button class="quiet" @click=${() => answers.tryAgain()}>try again</button>
            </p>`
      }
      ${
        page.fileFaults.length === 0
          ? nothing
          : html`<div class="notice" role="alert">
              ${page.fileFaults.map((line) => html`<p>${line}</p>`)}
              <button
                class="quiet"
                @click=${() => page.putAway('file')}
              >
                put away
              </button>
            </div>`
      }
      ${
        faults.length === 0
          ? nothing
          : html`<div class="notice faults" role="alert">
              <p>What you typed is kept. Until it is mended, the figures show the last design that held together:</p>
              <ul>
                ${faults.map(
                  (fault) =>
                    html`<li>
                      <b>${fault.path}</b> must be ${fault.required}; received ${fault.received}.
                      ${fault.hint ?? ''}
                    </li>`,
                )}
              </ul>
            </div>`
      }
      </div>
    </div>`;
}

/** What there is to do, for somebody who comes for the first time: gone with the first change. */
function welcome({ store, autosave, notice }: Session, putAway: () => void): TemplateResult | typeof nothing {
  const first = autosave.state.value.kind === 'waiting' && store.undoCount.value === 0;
  if (!first || notice.value !== null) return nothing;
  return html`<p class="welcome" role="note">
      This is an example. Take hold of any ring, type over any number on a dashed line, or begin with your own design: its
      title, at the top, opens the menu.
      <button
        class="quiet"
        @click=${putAway}
      >
        put away
      </button>
    </p>`;
}
