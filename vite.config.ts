import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { args, browser } from './tests/support/chromium.ts';

const launch = process.env.VITEST ? await browser() : { executablePath: '', env: {} };

/** One configuration for the page, the command line (`vite build --mode cli`) and both test tiers. */
export default defineConfig(({ mode }) =>
  mode === 'cli'
    ? {
        build: {
          ssr: 'src/cli/main.ts',
          outDir: 'dist/cli',
          target: 'node20',
          minify: false,
          rolldownOptions: { output: { entryFileNames: 'offcentre.mjs' } },
        },
        ssr: { noExternal: true as const },
      }
    : {
        root: 'src',
        base: './',
        publicDir: false as const,
        cacheDir: '../node_modules/.vite',
        build: { target: 'es2022', outDir: '../dist/page', emptyOutDir: true },
        worker: { format: 'es' as const },
        optimizeDeps: {
          include: [
            'mathjs',
            'ml-matrix',
            'comlink',
            'lit',
            'lit/decorators.js',
            'three',
            'three/addons/controls/OrbitControls.js',
          ],
        },
        test: {
          root: '.',
          projects: [
            {
              extends: true as const,
              test: {
                name: 'unit',
                include: ['tests/**/*.test.ts'],
                exclude: ['tests/browser/**'],
                environment: 'node',
                isolate: false,
              },
            },
            {
              extends: true as const,
              test: {
                name: 'browser',
                include: ['tests/browser/**/*.test.ts'],
                browser: {
                  enabled: true,
                  headless: true,
                  screenshotFailures: false,
                  provider: playwright({
                    launchOptions: {
                      executablePath: launch.executablePath,
                      env: { ...(process.env as Record<string, string>), ...launch.env },
                      args,
                    },
                  }),
                  instances: [{ browser: 'chromium' as const }],
                },
              },
            },
          ],
        },
      },
);
