/**
 * @returns what is wrong with the name of a file beside the job, undefined where it is good. A job may name files in its
 * own folder and below it, never above or elsewhere: a job that came by mail must not read what it pleases.
 */
export function fileNameFault(name: string): string | undefined {
  const expected = 'a file in the folder of the job file or below it, named with "/", like "offsets.csv"';
  const steps = name.split('/');
  const leaves = steps.some((step) => step === '' || step === '.' || step === '..' || step.trim() !== step);
  const odd = /[\\:*?"<>|\p{C}]/u.test(name) || name.startsWith('~');
  return leaves || odd ? expected : undefined;
}
