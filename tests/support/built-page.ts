import { build, type PreviewServer, preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the built page. */
    pageUrl: string;
  }
}

/** Builds the page as a user would get it and serves it for the tests of this project. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  // The build must not see the test runner's own variables, or it would load the browser once more.
  const { VITEST, NODE_ENV } = process.env;
  delete process.env.VITEST;
  process.env.NODE_ENV = 'production';
  let server: PreviewServer;
  try {
    await build({ configFile: 'vite.config.ts', logLevel: 'error' });
    server = await preview({
      configFile: 'vite.config.ts',
      preview: { port: 0, host: '127.0.0.1' },
      logLevel: 'error',
    });
  } finally {
    process.env.VITEST = VITEST;
    process.env.NODE_ENV = NODE_ENV;
  }
  const address = server.httpServer.address();
  if (address === null || typeof address === 'string') throw new Error('the preview server has no port');
  project.provide('pageUrl', `http://127.0.0.1:${address.port}/`);
  return () => server.close();
}
