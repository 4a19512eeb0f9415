import type { Reporter, TestModule } from 'vitest/node';

/** Closes a run with one plain line: how many tests passed, failed and were skipped. */
export class CountReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const count = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) count[test.result().state] += 1;
      if (module.state() === 'failed' && [...module.children.allTests()].length === 0) count.failed += 1;
    }
    // After the default reporter's own summary.
    setImmediate(() =>
      console.log(`${count.passed} passed, ${count.failed} failed, ${count.skipped + count.pending} skipped`),
    );
  }
}
