/** A strict little XML reader of the tests' own: refuses what is not well formed. */

export interface XmlNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: XmlNode[];
  text: string;
}

const ENTITIES: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function decode(text: string): string {
  if (/&(?!(amp|lt|gt|quot|#39);)/.test(text)) throw new Error(`stray ampersand in ${text}`);
  return text.replace(/&([^;]+);/g, (_, name: string) => ENTITIES[name]);
}

export function readXml(source: string): XmlNode {
  let rest = source.replace(/^<\?xml[^>]*\?>\s*/, '');
  const root: XmlNode = { name: '', attributes: {}, children: [], text: '' };
  const stack = [root];
  while (rest.length > 0) {
    const top = stack[stack.length - 1];
    if (rest.startsWith('</')) {
      const match = /^<\/([A-Za-z][\w-]*)\s*>/.exec(rest);
      if (!match || match[1] !== top.name) throw new Error(`end of ${top.name} expected at ${rest.slice(0, 40)}`);
      stack.pop();
      rest = rest.slice(match[0].length);
    } else if (rest.startsWith('<')) {
      const match = /^<([A-Za-z][\w-]*)((?:\s+[A-Za-z][\w:-]*="[^"<]*")*)\s*(\/?)>/.exec(rest);
      if (!match) throw new Error(`not a tag: ${rest.slice(0, 60)}`);
      const attributes: Record<string, string> = {};
      for (const [, key, value] of match[2].matchAll(/([A-Za-z][\w:-]*)="([^"]*)"/g)) {
        if (key in attributes) throw new Error(`attribute ${key} twice`);
        attributes[key] = decode(value);
      }
      const node: XmlNode = { name: match[1], attributes, children: [], text: '' };
      top.children.push(node);
      if (match[3] === '') stack.push(node);
      rest = rest.slice(match[0].length);
    } else {
      const end = rest.indexOf('<');
      const text = end < 0 ? rest : rest.slice(0, end);
      if (text.includes('>')) throw new Error('stray >');
      top.text += decode(text);
      rest = end < 0 ? '' : rest.slice(end);
    }
  }
  if (stack.length !== 1 || root.children.length !== 1) throw new Error('not one root');
  return root.children[0];
}

/** All nodes below (and including) a node. */
export function* walk(node: XmlNode): Generator<XmlNode> {
  yield node;
  for (const child of node.children) yield* walk(child);
}
