import { noChange } from 'lit';
import { type AttributePart, Directive, directive, type PartInfo, PartType } from 'lit/directive.js';

/** Inline styles by the object model, property by property, since the page's policy forbids style attributes. */
class Placed extends Directive {
  #known: Readonly<Record<string, string>> = {};

  constructor(part: PartInfo) {
    super(part);
    if (part.type !== PartType.ATTRIBUTE || part.name !== 'style') throw new Error('placed() belongs to style');
  }

  override render(_styles: Readonly<Record<string, string>>): typeof noChange {
    return noChange;
  }

  override update(part: AttributePart, [styles]: [Readonly<Record<string, string>>]): typeof noChange {
    const { style } = part.element as HTMLElement;
    const known = this.#known;
    for (const name of Object.keys(known)) if (!(name in styles)) style.removeProperty(name);
    for (const [name, value] of Object.entries(styles)) if (known[name] !== value) style.setProperty(name, value);
    this.#known = styles;
    return noChange;
  }
}

/** `style=${placed({ left: '3px' })}`: Lit's own styleMap writes the attribute at first, which the policy refuses. */
export const placed = directive(Placed);
