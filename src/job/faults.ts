import type * as z from 'zod';
import { KNOWN_FIELDS } from './fields.ts';
import { nearest } from './nearest.ts';
import { pathText, quoted, shown } from './shown.ts';
import type { Fault } from './types.ts';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

/** What the schema found wrong, one fault for each field, in the order of the file's fields. */
export function faultsFrom(issues: readonly Issue[], raw: unknown): Fault[] {
  return withoutRepeats(issues.flatMap((issue) => faultsOf(issue, [], raw)));
}

function faultsOf(issue: Issue, base: Path, raw: unknown): Fault[] {
  const path = [...base, ...issue.path];
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => unknownField(key, path, issue.message));
  if (issue.code === 'invalid_union') {
    const branch = issue.errors.find((errors) => errors.length > 0 && !errors.some(atRoot));
    if (branch !== undefined) return branch.flatMap((inner) => faultsOf(inner, path, raw));
  }
  return [{ path: pathText(path), found: foundBy(issue, valueAt(raw, path)), expected: issue.message }];
}

/** The branch of a union was not even meant: the value is of another type altogether. */
function atRoot(issue: Issue): boolean {
  return issue.path.length === 0 && (issue.code === 'invalid_type' || issue.code === 'invalid_value');
}

function unknownField(key: string, path: Path, message: string): Fault {
  const known = message.startsWith(KNOWN_FIELDS) ? message.slice(KNOWN_FIELDS.length) : message;
  const meant = nearest(key, known.split(', '));
  const hint = meant === undefined ? '' : `; did you mean ${meant}?`;
  return { path: pathText([...path, key]), found: quoted(key), expected: `one of ${known}${hint}` };
}

function foundBy(issue: Issue, value: unknown): string {
  const names: unknown = issue.code === 'custom' ? issue.params?.names : undefined;
  if (!Array.isArray(names) || typeof value !== 'object' || value === null) return shown(value);
  const there = names.filter((name) => Object.hasOwn(value, name));
  return there.length === 0 ? 'none of them' : there.join(' and ');
}

/** @returns the value at a path of any parsed file, undefined where the path leads nowhere. */
export function valueAt(raw: unknown, path: Path): unknown {
  let value = raw;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

function withoutRepeats(faults: readonly Fault[]): Fault[] {
  const seen = new Set<string>();
  return faults.filter((fault) => {
    const key = JSON.stringify(fault);
    return !seen.has(key) && seen.add(key) !== undefined;
  });
}
