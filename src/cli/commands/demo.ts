import { DEMO_DESIGN } from '../../design/demo.ts';
import type { Command } from '../command.ts';
import { outDirectory, writeTexts } from '../files.ts';
import { EXIT, jsonText } from '../terminal.ts';

/** Writes the demo design to standard output, or as demo.json into a directory. */
export const demo: Command = async (given, terminal) => {
  const text = `${jsonText(DEMO_DESIGN)}\n`;
  const directory = outDirectory(given);
  if (directory === undefined) terminal.out(text);
  else {
    const written = writeTexts(directory, { 'demo.json': text });
    if (given.values.has('json')) terminal.out(`${jsonText({ written })}\n`);
    else terminal.out(`Wrote ${written.join(', ')}\n`);
  }
  return EXIT.done;
};
