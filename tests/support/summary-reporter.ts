import type { Reporter, TestModule } from 'vitest/node';

/** Closes a run with one plain line: `N passed, N failed`. */
export default class SummaryReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandled.length;
    for (const module of modules) {
      if (module.state() === 'failed' && [...module.children.allTests()].length === 0) failed++;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed++;
        else if (state === 'failed') failed++;
      }
    }
    process.stdout.write(`\n${passed} passed, ${failed} failed\n`);
  }
}
