import type { DocumentState } from './document.ts';

const JOB = {
  format: 'lugwright.job',
  version: 1,
  title: 'New job',
  display: 'metric',
  ship: {
    lpp: '60 m',
    draftAft: '3.5 m',
    draftForward: '3.2 m',
    heel: '0 deg',
    hull: {
      kind: 'segments',
      start: { y: '0 m', z: '0.2 m' },
      path: [
        { to: { y: '2.4 m', z: '1 m' } },
        { to: { y: '4.2 m', z: '3 m' }, radius: '2.6 m' },
        { to: { y: '4.3 m', z: '5 m' } },
      ],
    },
  },
  fittings: [
    {
      id: 'P1',
      at: { station: '6 m', side: 'port', girth: '1.6 m' },
      lug: {
        foot: '300 mm',
        thickness: '32 mm',
        pinHeight: '200 mm',
        hole: '50 mm',
        topRadius: '90 mm',
        shoulder: '48 mm',
      },
      stem: 'plumb',
      heading: '0 deg',
      load: { toward: ['6 m', '1.5 m', '-4 m'], force: '60 kN' },
      weld: { leg: '14 mm' },
    },
  ],
};

/** A job to start from where there is none: an ordinary bottom and one plumb lug. */
export const BLANK: DocumentState = {
  text: `${JSON.stringify(JOB, null, 2)}\n`,
  files: {},
  stops: [],
  fileName: 'job.json',
};
