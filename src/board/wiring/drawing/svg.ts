/** Text fit for an SVG's content or attribute. */
export function escaped(text: string): string {
  return text.replace(
    /[&<>"]/g,
    (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign] ?? sign,
  );
}

type Attributes = Readonly<Record<string, string | number>>;

/** One SVG element; numbers are rounded to a tenth so that the file is the same everywhere. */
export function element(name: string, attributes: Attributes, content?: string): string {
  const parts = Object.entries(attributes).map(([key, value]) => {
    const text = typeof value === 'number' ? String(Math.round(value * 10) / 10) : escaped(value);
    return `${key}="${text}"`;
  });
  const open = [name, ...parts].join(' ');
  return content === undefined ? `<${open}/>` : `<${open}>${content}</${name}>`;
}

export function label(x: number, y: number, text: string, attributes: Attributes = {}): string {
  return element('text', { x, y, ...attributes }, escaped(text));
}

/** Path through points, drawn as a wire with a light edge so that crossings read as crossings. */
export function wire(points: readonly (readonly [number, number])[], css: string): string {
  const d = points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x} ${y}`).join(' ');
  return element('path', { d, class: 'edge' }) + element('path', { d, class: 'wire', stroke: css });
}
