/**
 * Frame, arms and links: the webs between their bosses. The bosses themselves are items and move with their pivots.
 */
import { memo, useMemo, type ReactNode } from 'react';
import type { Member, Motion } from '../../shared/index.ts';
import { toPaintedGeometry, useGeometry } from './geometry.ts';
import { memberSurface } from './members.ts';
import { PaintedMesh } from './PaintedMesh.tsx';
import { Painted } from './painted.ts';
import { memberLook } from './palette.ts';
import type { Anchor } from './placement.ts';
import { Posed } from './Posed.tsx';
import { insideOut } from './surface.ts';

interface Props {
  readonly members: Readonly<Record<string, Member>>;
  readonly anchors: Readonly<Record<string, Readonly<Record<string, Anchor>>>>;
  readonly isGhost: boolean;
  readonly pose?: Readonly<Record<string, Motion>> | undefined;
  readonly hidden?: ReadonlySet<string> | undefined;
  /** Drawn solid, whatever else is a ghost. */
  readonly moving?: readonly string[] | undefined;
}

const NONE: Readonly<Record<string, Anchor>> = {};

/** All members of the model. */
export function Members({ members, anchors, isGhost, pose, hidden, moving }: Props): ReactNode {
  return Object.entries(members).map(([id, member]) => (
    <Posed key={id} motion={pose?.[id]}>
      {hidden?.has(id) !== true && (
        <Body member={member} anchors={anchors[id] ?? NONE} isGhost={isGhost && moving?.includes(id) !== true} />
      )}
    </Posed>
  ));
}

const Body = memo(function Body({
  member,
  anchors,
  isGhost,
}: {
  readonly member: Member;
  readonly anchors: Readonly<Record<string, Anchor>>;
  readonly isGhost: boolean;
}): ReactNode {
  const key = useMemo(
    () => `member ${JSON.stringify([member.kind, member.material, member.webs, member.points, anchors])}`,
    [member, anchors],
  );
  const geometry = useGeometry(key, () => {
    const surface = memberSurface(member, anchors);
    const painted = new Painted()
      .add(surface, { kind: 'lit', look: memberLook(member.kind, member.material) })
      .mark('touched')
      .mark('marked');
    return toPaintedGeometry(painted.add(insideOut(surface), { kind: 'shell' }));
  });
  return geometry.index?.count === 0 ? null : <PaintedMesh geometry={geometry} state={isGhost ? 'ghost' : 'plain'} />;
});
