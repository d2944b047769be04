import { DEMO_DESIGN } from './design/demo.ts';
import { createWorkerEngine } from './engine/worker-engine.ts';
import { keepOffline } from './service-worker/keep-offline.ts';
import { Session } from './state/session.ts';
import './stations/oc-app.ts';

const session = new Session({ start: DEMO_DESIGN, engine: createWorkerEngine() });
const fragment = location.hash;
const app = document.createElement('oc-app');
app.session = session;
document.body.append(app);
void session.open(fragment);
if (import.meta.env.PROD) {
  // After everything that the first look needs, its first number included.
  const keep = (): void =>
    void keepOffline((sentence) => {
      session.notice.value ??= sentence;
    });
  addEventListener('load', () => setTimeout(keep, 3000));
}
