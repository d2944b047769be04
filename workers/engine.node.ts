import { parentPort } from 'node:worker_threads';
import * as Comlink from 'comlink';
import nodeEndpoint from 'comlink/dist/esm/node-adapter.mjs';
import { workerApi } from '../src/engine/worker-entry.ts';

if (parentPort) Comlink.expose(workerApi, nodeEndpoint(parentPort));
