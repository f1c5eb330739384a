/**
 * A torque window laid out along its strip, as plain numbers: shares run from 0 to 1.
 */
import type { TorqueWindow } from '../../shared/index.ts';

export type ZoneKind = 'too-little' | 'perhaps-little' | 'between' | 'perhaps-much' | 'too-much' | 'unsure-zone';

/** A stretch of the strip. */
interface Zone {
  readonly kind: ZoneKind;
  readonly from: number;
  readonly to: number;
}

/** A strip laid out: shares along it. */
interface Strip {
  readonly zones: readonly Zone[];
  readonly spec: number;
  /** Below here the clamp fades as the faces settle, if that is known. */
  readonly fades?: number;
  /** Below here an axle without a lock may work loose, if a torque keeps it from that. */
  readonly slips?: number;
  /** Where the limits leave room for sure; undefined where they leave none. */
  readonly from?: number;
  readonly to: number;
  /** Torque at the strip's right end, N·m. */
  readonly end_Nm: number;
}

/** Lay a window out along a strip that begins at nothing. */
export function layStrip(window: TorqueWindow): Strip {
  const top = Math.min(...window.most.map((limit) => limit.possible_Nm));
  const end_Nm = 1.06 * Math.max(top, window.spec_Nm * 1.1);
  const share = (torque_Nm: number): number => Math.min(1, Math.max(0, torque_Nm / end_Nm));
  const { least, to_Nm, from_Nm, spec_Nm } = window;
  const low = least ? share(least.possible_Nm) : 1;
  const sure = from_Nm === undefined ? 1 : share(from_Nm);
  const end = share(to_Nm);
  const over = share(top);
  const edges: Zone[] = [
    { kind: 'too-little', from: 0, to: Math.min(low, over) },
    // Where friction leaves no sure torque the two unsure zones overlap.
    ...(sure <= end
      ? [
          { kind: 'perhaps-little' as const, from: low, to: sure },
          { kind: 'between' as const, from: sure, to: end },
          { kind: 'perhaps-much' as const, from: end, to: over },
        ]
      : [{ kind: 'unsure-zone' as const, from: Math.min(low, over), to: over }]),
    { kind: 'too-much', from: over, to: 1 },
  ];
  return {
    zones: edges.filter(({ from, to }) => to - from > 1e-9),
    spec: share(spec_Nm),
    ...(window.keeps ? { fades: share(window.keeps.possible_Nm) } : {}),
    ...(window.slips && window.slips.isOutOfReach !== true ? { slips: share(window.slips.possible_Nm) } : {}),
    ...(from_Nm === undefined ? {} : { from: sure }),
    to: end,
    end_Nm,
  };
}
