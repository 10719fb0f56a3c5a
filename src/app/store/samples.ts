import type { DocumentState } from './document.ts';

/** Jobs that come with the program. Each folder: job.json, about.txt (one line on what it shows), and its tables. */
const texts = import.meta.glob<string>(
  ['../../../samples/*/*.json', '../../../samples/*/*.txt', '../../../samples/*/*.csv'],
  {
    query: '?raw',
    import: 'default',
    eager: true,
  },
);

export interface Sample {
  readonly name: string;
  readonly title: string;
  readonly about: string;
  readonly document: DocumentState;
}

function titleOf(text: string, otherwise: string): string {
  try {
    const { title } = JSON.parse(text) as { title?: unknown };
    return typeof title === 'string' ? title : otherwise;
  } catch {
    return otherwise;
  }
}

export function gather(all: Readonly<Record<string, string>>): Sample[] {
  const folders = new Map<string, Record<string, string>>();
  for (const [path, text] of Object.entries(all)) {
    const [folder, file] = path.split('/').slice(-2);
    if (folder === undefined || file === undefined) continue;
    const files = folders.get(folder) ?? {};
    files[file] = text;
    folders.set(folder, files);
  }
  return [...folders]
    .sort(([a], [b]) => a.localeCompare(b))
    .flatMap(([name, files]) => {
      const { 'job.json': text, 'about.txt': about, ...rest } = files;
      if (text === undefined) return [];
      const document: DocumentState = { text, files: rest, stops: [], fileName: `${name}.json` };
      return [{ name, title: titleOf(text, name), about: (about ?? '').trim(), document }];
    });
}

export const SAMPLES: readonly Sample[] = gather(texts);
