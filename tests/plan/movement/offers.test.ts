import { describe, expect, test } from 'vitest';
import { report } from '../../../src/cli/report.ts';
import { showPhrase } from '../../../src/job/show.ts';
import { stanceOffers, withOffers } from '../../../src/plan/movement/offers.ts';
import { planJob } from '../../../src/plan/plan.ts';
import { planFile } from '../../../src/plan/planfile.ts';
import { sample } from './jobs.ts';

describe('what another stance would do', () => {
  test('for the lug that no heading saves: the best there is, what it comes to, and that it is not enough', () => {
    const plan = withOffers(planJob(sample('i-no-heading-saves-it')));
    const [offer] = plan.offers ?? [];
    expect(offer?.id).toBe('L');
    expect(offer?.freedom).toBe('heading-and-lean');
    expect(offer?.result.saves).toBe(false);
    const file = planFile(plan).lift?.lugs[0]?.otherStance;
    expect(file?.withinLimit).toBe(false);
    expect(file?.sidewaysKn).toBeCloseTo((offer?.result.best.sideways ?? 0) / 1000, 9);
    expect(showPhrase(offer?.text ?? [], 'metric')).toMatch(
      /With heading .* instead of .* still over the 5\.0 % allowed/,
    );
    expect(report(plan)).toMatch(/Stance {4}With heading/);
  });

  test('planned so, the lug is pulled as the offer says', () => {
    // Turned out of its best heading by 8 deg, a heading is all that it needs.
    const job = sample('g-rudder-walked-aft', (raw) => {
      raw.fittings[0].heading = `${Number.parseFloat(raw.fittings[0].heading) + 8} deg`;
    });
    const plan = planJob(job);
    const offer = stanceOffers(plan).find(({ id }) => id === plan.fittings[0]?.id);
    if (offer === undefined) throw new Error('no offer');
    expect(offer.freedom).toBe('heading');
    expect(offer.result.saves).toBe(true);
    const stood = planJob({
      ...job,
      fittings: job.fittings.map((f) => (f.id === offer.id ? offer.result.best.fitting : f)),
    });
    const sideways = (of: typeof plan) =>
      of.lift?.lugs.find(({ id }) => id === offer.id)?.worst?.sideways.pull.sideways;
    expect(Math.abs(sideways(stood) ?? 0)).toBeCloseTo(offer.result.best.sideways, 2);
    expect(Math.abs(sideways(plan) ?? 0)).toBeCloseTo(offer.result.before.sideways, 2);
  });

  test('none for a job without a movement, nor for lugs that are hardly pulled sideways', () => {
    expect(stanceOffers(planJob(sample('a-plumb-lug-rounded-bottom')))).toEqual([]);
    const plan = planJob(sample('h-slack-line'));
    expect(withOffers(plan)).toBe(plan);
    expect(planFile(plan).lift?.lugs.map((lug) => lug.otherStance)).toEqual([null, null, null]);
  });
});
