/** Entry of the command line, built into dist/cli/offcentre.mjs. */
import { run } from './run.ts';

// A reader that closed its end (`| head`) is no fault of ours; what is left to say has no listener.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
    throw error;
  });
}

const terminal = {
  out: (text: string) => {
    process.stdout.write(text);
  },
  err: (text: string) => {
    process.stderr.write(text);
  },
};

try {
  process.exitCode = await run(process.argv.slice(2), terminal);
} catch (error) {
  // Not one of the documented codes: 70 is "internal software error" by the BSD convention (sysexits).
  terminal.err(
    `Offcentre failed; this is a fault of the program, not of the design.\n${error instanceof Error ? error.stack : error}\n`,
  );
  process.exitCode = 70;
}
