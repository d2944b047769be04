import { DEMO_DESIGN } from './design/demo.ts';
import { uncaughtSentence } from './engine/failure-sentence.ts';
import { createWorkerEngine } from './engine/worker-engine.ts';
import { keepOffline } from './service-worker/keep-offline.ts';
import { Session } from './state/session.ts';
import './stations/oc-app.ts';

/** What the first look is set in. */
const FACES = ['400 15px "Atkinson Hyperlegible Next Variable"', '400 32px "Literata Variable"'] as const;
const LONGEST_WAIT_MS = 200;

const session = new Session({ start: DEMO_DESIGN, engine: createWorkerEngine() });
const fragment = location.hash;
const app = document.createElement('oc-app');
app.session = session;
// The engine starts meanwhile. Text that is drawn in one face and then in another jumps; without the faces it goes on all the same.
await Promise.race([
  Promise.all([document.fonts.load(FACES[0]), document.fonts.load(FACES[1])]).catch(() => undefined),
  new Promise((resolve) => setTimeout(resolve, LONGEST_WAIT_MS)),
]);
document.body.append(app);
void session.open(fragment);
// What nobody caught: the reader learns of it in a sentence, whoever looks after the program on the console.
const tell = (error: unknown): void => {
  session.notice.value ??= uncaughtSentence(error);
};
addEventListener('error', ({ error }) => tell(error));
addEventListener('unhandledrejection', ({ reason }) => tell(reason));
if (import.meta.env.PROD) {
  // After everything that the first look needs, its first number included.
  const keep = (): void =>
    void keepOffline((sentence) => {
      session.notice.value ??= sentence;
    });
  addEventListener('load', () => setTimeout(keep, 3000));
}
