import { askAboutHull } from '../hullfile/asked.ts';
import { type DocumentState, useDocument } from './document.ts';
import { HELD, hold, type JobFile } from './heldfile.ts';
import { type Json, pathOf, valueIn } from './jsontext.ts';
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
const OPENED = [
  ...TYPES,
  {
    description: 'Hull: table, drawing, scan or model',
    accept: {
      'text/csv': ['.csv'],
      'image/vnd.dxf': ['.dxf'],
      'model/stl': ['.stl'],
      'model/obj': ['.obj'],
      'application/octet-stream': ['.ply'],
      'model/step': ['.stp', '.step'],
      'model/iges': ['.igs', '.iges'],
    },
  },
];

/** Bytes. */
const LARGEST = 40_000_000;
const LARGEST_HELD = 400_000_000;

/** Names of files that lie beside a job. */
const BESIDE = /\.(csv|dxf|txt)$/i;

/** Takes in files that were dropped or chosen: a job file with what it names, or files for the job on the screen. */
export async function takeFiles(files: readonly File[], from?: FileHandle): Promise<void> {
  const beside: Record<string, JobFile> = {};
  const jobs: { readonly name: string; readonly text: string }[] = [];
  for (const file of files) {
    const held = HELD.test(file.name);
    if (file.size > (held ? LARGEST_HELD : LARGEST)) {
      const what = held ? 'a scan or a model may be here' : 'a job or a table of offsets can be';
      notify(`${file.name} is larger than ${what}. It was left alone.`, true);
      continue;
    }
    if (held) {
      beside[file.name] = await hold(await file.arrayBuffer());
      continue;
    }
    const text = await exactText(file);
    if (text === undefined)
      notify(`${file.name} is not a text file. It was left alone; the job on the screen is as it was.`, true);
    else if (BESIDE.test(file.name)) beside[file.name] = text;
    else jobs.push({ name: file.name, text });
  }
  for (const { name, text } of jobs) if (await takeJob(name, text, beside, from)) return;
  for (const [name, file] of Object.entries(beside)) takeBeside(name, file);
}

/** Names of the files that the hulls of a job name. */
function namedFiles(job: Json | undefined): string[] {
  const others = valueIn(job, ['ship', 'compare']);
  const hulls = [
    valueIn(job, ['ship', 'hull']),
    ...(Array.isArray(others) ? others.map((o) => valueIn(o, ['hull'])) : []),
  ];
  return hulls.flatMap((hull) => {
    const name = valueIn(hull, ['file']);
    return typeof name === 'string' ? [name] : [];
  });
}

/** A file for the job on the screen: one that it names, a table in place of the one it names, or a hull to be asked about. */
function takeBeside(name: string, file: JobFile): void {
  const { text, files } = useDocument.getState();
  const job = parsed(text);
  if (namedFiles(job).includes(name)) {
    useDocument.setState({ files: { ...files, [name]: file } });
    notify(`${name} is now the file of that name that this job is planned from.`);
    return;
  }
  if (typeof file === 'object' || /\.dxf$/i.test(name)) askAboutHull(name, file);
  else takeTable(name, file);
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
  beside: Readonly<Record<string, JobFile>>,
  from: FileHandle | undefined,
): Promise<boolean> {
  const value = parsed(text);
  if (value === undefined || valueIn(value, ['format']) !== 'lugwright.job') {
    const why = value === undefined ? 'it is not JSON' : 'its "format" is not "lugwright.job"';
    notify(`${name} is not a job file: ${why}. The job on the screen is as it was.`, true);
    return false;
  }
  const document: DocumentState = { text, files: beside, stops: [], fileName: name };
  await openAsNew(document);
  handle = from;
  const missing = namedFiles(value).filter((wanted) => !Object.hasOwn(beside, wanted));
  if (missing.length > 0) notify(`The job needs ${missing.join(' and ')} too: drop it on the window.`);
  return true;
}

export async function chooseFile(): Promise<void> {
  const pick = (window as FilePickers).showOpenFilePicker;
  if (pick !== undefined) {
    try {
      const [chosen] = await pick.call(window, { types: OPENED, excludeAcceptAllOption: false });
      if (chosen !== undefined) await takeFiles([await chosen.getFile()], chosen);
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'AbortError')) notify('The file could not be read.', true);
    }
    return;
  }
  const input = document.createElement('input');
  input.type = 'file';
  input.multiple = true;
  input.accept = '.json,.csv,.dxf,.txt,.stl,.obj,.ply,.stp,.step,.igs,.iges,application/json,text/csv';
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
