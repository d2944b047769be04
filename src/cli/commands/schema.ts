import { designJsonSchema } from '../../design/json-schema.ts';
import type { Command } from '../command.ts';
import { outDirectory, writeTexts } from '../files.ts';
import { EXIT, jsonText } from '../terminal.ts';

/** Prints the JSON Schema of the design file, or writes it into a directory. */
export const schema: Command = async (given, terminal) => {
  const text = `${jsonText(designJsonSchema())}\n`;
  const directory = outDirectory(given);
  if (directory === undefined) terminal.out(text);
  else {
    const written = writeTexts(directory, { 'offcentre-design.schema.json': text });
    if (given.values.has('json')) terminal.out(`${jsonText({ written })}\n`);
    else terminal.out(`Wrote ${written.join(', ')}\n`);
  }
  return EXIT.done;
};
