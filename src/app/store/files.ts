import { type DocumentState, useDocument } from './document.ts';
import { pathOf, valueIn } from './jsontext.ts';
import { parsed } from './parsed.ts';
import { flush, notify, openAsNew } from './session.ts';

/** Files in and out: dropped, chosen, written back. Bytes that nobody edited stay as they were. */

interface FileHandle {
  readonly name: string;
  getFile(): Promise<File>;
  createWritable(): Promise<{ write(data: string): Promise<void>; close(): Promise<void> }>;
}

interface FilePickers {
  showOpenFilePicker?(options: unknown): Promise<FileHandle[]>;
  showSaveFilePicker?(options: unknown): Promise<FileHandle>;
}

let handle: FileHandle | undefined;

const TYPES = [{ description: 'Job file', accept: { 'application/json': ['.json'] } }];

const LARGEST = 40_000_000;

/** Takes in files that were dropped or chosen: a job file, or tables that the job names. */
export async function takeFiles(files: readonly File[], from?: FileHandle): Promise<void> {
  for (const file of files) {
    if (file.size > LARGEST) {
      notify(`${file.name} is larger than a job or a table of offsets can be. It was left alone.`, true);
      continue;
    }
    const text = await exactText(file);
    if (text === undefined) {
      notify(`${file.name} is not a text file. It was left alone; the job on the screen is as it was.`, true);
      continue;
    }
    if (/\.csv$/i.test(file.name)) takeTable(file.name, text);
    else await takeJob(file.name, text, files, from);
  }
}

/** The file's text, byte order mark and all; undefined where the bytes are no UTF-8. */
async function exactText(file: File): Promise<string | undefined> {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer());
  } catch {
    return undefined;
  }
}

function takeTable(name: string, text: string): void {
  const { text: job, files } = useDocument.getState();
  const wanted = valueIn(parsed(job), pathOf('ship.hull.file'));
  const as = typeof wanted === 'string' ? wanted : name;
  useDocument.setState({ files: { ...files, [as]: text } });
  notify(
    typeof wanted === 'string'
      ? `${name} is now the table of offsets of this job.`
      : `${name} was put beside the job. Choose “a table of offsets” for the hull to plan on it.`,
  );
}

async function takeJob(
  name: string,
  text: string,
  others: readonly File[],
  from: FileHandle | undefined,
): Promise<void> {
  const value = parsed(text);
  if (value === undefined || valueIn(value, ['format']) !== 'lugwright.job') {
    const why = value === undefined ? 'it is not JSON' : 'its "format" is not "lugwright.job"';
    notify(`${name} is not a job file: ${why}. The job on the screen is as it was.`, true);
    return;
  }
  const tables: Record<string, string> = {};
  for (const other of others) {
    if (!/\.csv$/i.test(other.name)) continue;
    const table = await exactText(other);
    if (table !== undefined) tables[other.name] = table;
  }
  const document: DocumentState = { text, files: tables, stops: [], fileName: name };
  await openAsNew(document);
  handle = from;
  const wanted = valueIn(value, pathOf('ship.hull.file'));
  if (typeof wanted === 'string' && tables[wanted] === undefined)
    notify(`The job needs ${wanted} too: drop that file on the window.`);
}

export async function chooseFile(): Promise<void> {
  const pick = (window as FilePickers).showOpenFilePicker;
  if (pick !== undefined) {
    try {
      const [chosen] = await pick.call(window, { types: TYPES, excludeAcceptAllOption: false });
      if (chosen !== undefined) await takeFiles([await chosen.getFile()], chosen);
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'AbortError')) notify('The file could not be read.', true);
    }
    return;
  }
  const input = document.createElement('input');
  input.type = 'file';
  input.multiple = true;
  input.accept = '.json,.csv,application/json,text/csv';
  input.addEventListener('change', () => void takeFiles([...(input.files ?? [])]));
  input.click();
}

/** Writes the job back to the file it came from, or to one that the person names, or to the downloads. */
export async function saveToFile(): Promise<void> {
  await flush();
  const { text, fileName } = useDocument.getState();
  const pick = (window as FilePickers).showSaveFilePicker;
  if (pick !== undefined) {
    try {
      handle ??= await pick.call(window, { suggestedName: fileName, types: TYPES });
      const out = await handle.createWritable();
      await out.write(text);
      await out.close();
      useDocument.setState({ fileName: handle.name });
      notify(`Written to ${handle.name}.`);
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
      notify('The file could not be written; a copy goes to the downloads instead.', true);
      handle = undefined;
      download(fileName, text, 'application/json');
    }
    return;
  }
  download(fileName, text, 'application/json');
}

export function download(name: string, content: BlobPart, type: string): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** Forgets which file the job came from: another job is on the screen. */
export const forgetHandle = (): void => {
  handle = undefined;
};
