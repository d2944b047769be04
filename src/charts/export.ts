const SVG_NS = 'http://www.w3.org/2000/svg';

/** Properties whose computed value is written out, so that the picture needs no style sheet. */
const PROPERTIES = [
  'fill',
  'fill-opacity',
  'fill-rule',
  'stroke',
  'stroke-opacity',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'opacity',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
  'paint-order',
  'clip-path',
] as const;

/** Values that say nothing. */
const DEFAULTS: Readonly<Record<string, string>> = Object.freeze({
  'fill-opacity': '1',
  'fill-rule': 'nonzero',
  'stroke-opacity': '1',
  'stroke-dasharray': 'none',
  'stroke-linecap': 'butt',
  'stroke-linejoin': 'miter',
  opacity: '1',
  'text-anchor': 'start',
  'paint-order': 'normal',
  'clip-path': 'none',
});

const TEXT_ONLY = new Set(['font-family', 'font-size', 'font-weight', 'text-anchor', 'paint-order']);
const KEPT_ATTRIBUTES =
  /^(d|x|y|x1|x2|y1|y2|cx|cy|r|rx|ry|width|height|transform|id|patternUnits|patternTransform|viewBox|clip-path|fill-rule|text-anchor|fill)$/;

/** `url("page#id")` as browsers print it, back to `url(#id)`. */
function localUrl(value: string): string {
  return value.replace(/url\(["']?[^#)]*#([\w-]+)["']?\)/g, 'url(#$1)');
}

/** `rgb(1, 2, 3)` and `rgba(…)` as `#010203`; the alpha is left to the opacity properties. */
export function hexColour(value: string): string {
  const found = /^rgba?\(([\d.]+),\s*([\d.]+),\s*([\d.]+)/.exec(value);
  if (!found) return value;
  const part = (text: string): string => Math.round(Number(text)).toString(16).padStart(2, '0');
  return `#${part(found[1])}${part(found[2])}${part(found[3])}`;
}

function writeStyles(from: Element, to: Element): void {
  const style = getComputedStyle(from);
  const isText = from.localName === 'text' || from.localName === 'tspan';
  for (const name of PROPERTIES) {
    if (TEXT_ONLY.has(name) && !isText) continue;
    const value = localUrl(style.getPropertyValue(name).trim());
    if (value === '' || value === DEFAULTS[name]) {
      to.removeAttribute(name);
      continue;
    }
    if ((name === 'stroke-width' || name.startsWith('stroke-')) && style.stroke === 'none') continue;
    if ((name === 'fill' || name === 'stroke') && /^(rgba?\(0, 0, 0, 0\)|transparent)$/.test(value)) {
      to.setAttribute(name, 'none');
      continue;
    }
    to.setAttribute(name, name === 'fill' || name === 'stroke' ? hexColour(value) : value.replace(/px\b/g, ''));
  }
}

/** A bare copy of an element: no comments, no classes, no handles; null where nothing of it is drawn. */
function bareCopy(from: Element): Element | null {
  if (from.matches('.handle, .crosshair, .reading-dot') || getComputedStyle(from).display === 'none') {
    if (!from.closest('defs')) return null;
  }
  const to = document.createElementNS(SVG_NS, from.localName);
  for (const attribute of from.attributes) {
    if (KEPT_ATTRIBUTES.test(attribute.name)) to.setAttribute(attribute.name, attribute.value);
  }
  if (from.localName !== 'svg' && from.localName !== 'defs') writeStyles(from, to);
  for (const child of from.childNodes) {
    if (child instanceof Element) {
      const copy = bareCopy(child);
      if (copy) to.append(copy);
    } else if (child.nodeType === Node.TEXT_NODE && (from.localName === 'text' || from.localName === 'tspan')) {
      to.append((child.textContent ?? '').replace(/\s+/g, ' '));
    }
  }
  return to.localName === 'g' && to.childNodes.length === 0 ? null : to;
}

/** What an element says, without what is only to be pressed. */
function written(element: Element): string {
  const copy = element.cloneNode(true) as Element;
  for (const pressed of copy.querySelectorAll('button, select, input')) pressed.remove();
  return element.matches('button, select, input') ? '' : (copy.textContent ?? '');
}

/** Numbers that stand on the drawing as fields: their text, where they stand. */
function fieldTexts(root: ShadowRoot, picture: DOMRect): Element[] {
  const texts: Element[] = [];
  for (const slot of root.querySelectorAll('slot')) {
    for (const element of slot.assignedElements()) {
      const text = (element.getAttribute('data-text') ?? written(element)).replace(/\s+/g, ' ').trim();
      const box = element.getBoundingClientRect();
      if (text === '' || box.width === 0) continue;
      const style = getComputedStyle(element);
      const node = document.createElementNS(SVG_NS, 'text');
      node.setAttribute('x', (box.left - picture.left).toFixed(1));
      node.setAttribute('y', (box.top - picture.top + box.height / 2 + 4).toFixed(1));
      node.setAttribute('fill', hexColour(style.color));
      node.setAttribute('font-family', style.fontFamily);
      node.setAttribute('font-size', '12.5');
      node.textContent = text;
      texts.push(node);
    }
  }
  return texts;
}

/**
 * The drawing of a chart as a standalone SVG: colours resolved, text as text, nothing of the page in it.
 * @param chart one of the chart elements, on the page
 * @param title becomes the picture's title
 */
export function chartSvg(chart: HTMLElement, title: string): string {
  const root = chart.shadowRoot;
  const svg = root?.querySelector('svg');
  if (!root || !svg) throw new Error('this chart has no drawing yet');
  const copy = bareCopy(svg) as SVGSVGElement;
  const { width, height } = svg.getBoundingClientRect();
  copy.setAttribute('xmlns', SVG_NS);
  copy.setAttribute('width', String(Math.round(width)));
  copy.setAttribute('height', String(Math.round(height)));
  copy.setAttribute('viewBox', `0 0 ${Math.round(width)} ${Math.round(height)}`);
  const paper = document.createElementNS(SVG_NS, 'rect');
  paper.setAttribute('width', '100%');
  paper.setAttribute('height', '100%');
  paper.setAttribute('fill', hexColour(getComputedStyle(chart).getPropertyValue('--paper')) || '#ffffff');
  const name = document.createElementNS(SVG_NS, 'title');
  name.textContent = title;
  copy.prepend(name, paper);
  copy.append(...fieldTexts(root, svg.getBoundingClientRect()));
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(copy)}\n`;
}

/** The same picture as PNG, at `scale` pixels for each CSS pixel. */
export async function chartPng(chart: HTMLElement, title: string, scale = 2): Promise<Blob> {
  const text = chartSvg(chart, title);
  const url = URL.createObjectURL(new Blob([text], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(image.width * scale));
    canvas.height = Math.max(1, Math.round(image.height * scale));
    const context = canvas.getContext('2d');
    if (!context) throw new Error('the browser offers no canvas');
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) => {
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('the picture is too large'))), 'image/png');
    });
  } finally {
    URL.revokeObjectURL(url);
  }
}
