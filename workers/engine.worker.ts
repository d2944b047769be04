import * as Comlink from 'comlink';
import { workerApi } from '../src/engine/worker-entry.ts';

Comlink.expose(workerApi);
