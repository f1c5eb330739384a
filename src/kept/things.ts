/**
 * What a thing that is kept is called on the list. Each kind of thing has its line here; one that has none is shown
 * under its own name.
 */
import { jobFrom, type Sum } from '../../shared/index.ts';
import { BUNDLED } from '../page/models.ts';

/** How the list tells of a thing. */
interface Told {
  readonly title: string;
  readonly more?: string;
}

/** Kind and the rest of a thing's name. */
export function partsOf(name: string): { readonly kind: string; readonly id: string } {
  const at = name.indexOf('/');
  return at < 0 ? { kind: name, id: '' } : { kind: name.slice(0, at), id: name.slice(at + 1) };
}

/** A text of a thing's field; undefined where it holds none. */
export function textOf({ fields }: Sum, field: string): string | undefined {
  const value = fields.get(field);
  return typeof value === 'string' && value !== '' ? value : undefined;
}

const bikeOf = (id: string): string => BUNDLED.find((model) => model.id === id)?.name ?? id;

const TOLD: Readonly<Record<string, (id: string, sum: Sum) => Told>> = {
  model: (id, sum) => ({ title: textOf(sum, 'name') ?? id, more: textOf(sum, 'file') ?? `${id}.json` }),
  tray: (id, { fields }) => {
    const count = [...fields].filter(([name, value]) => name.endsWith('/on') && value === true).length;
    return { title: `Sorting tray of ${bikeOf(id)}`, more: count === 1 ? '1 loose part' : `${count} loose parts` };
  },
  draft: (_, sum) => ({ title: textOf(sum, 'name') ?? 'A pivot', more: 'being measured up' }),
  order: (id) => {
    const [model = id, variant] = id.split(' ');
    return { title: `Own build order of ${bikeOf(model)}`, ...(variant === undefined ? {} : { more: variant }) };
  },
  felt: (id) => {
    const [model = id, variant] = id.split(' ');
    return { title: `What was felt at ${bikeOf(model)}`, ...(variant === undefined ? {} : { more: variant }) };
  },
  practice: (id, { fields }) => {
    const count = [...fields.keys()].filter((name) => name.startsWith('run/')).length;
    return { title: `Practice of ${id.toUpperCase()}`, more: count === 1 ? '1 drill' : `${count} drills` };
  },
  lesson: (id, sum) => ({ title: `Lesson: ${textOf(sum, 'name') ?? id}` }),
  job: (id, sum) => {
    const job = jobFrom(sum);
    return { title: `Job of ${bikeOf(job?.model ?? id)}`, ...(job?.reference ? { more: job.reference } : {}) };
  },
  chances: () => ({ title: 'How often each thing goes wrong here', more: 'What is wrong with it?' }),
  settings: () => ({ title: 'Settings of this device' }),
};

/** What the list says of a thing. */
export function tellThing(name: string, sum: Sum): Told {
  const { kind, id } = partsOf(name);
  return (Object.hasOwn(TOLD, kind) ? TOLD[kind] : undefined)?.(id, sum) ?? { title: name };
}
