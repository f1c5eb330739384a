/**
 * Frame, arms and links: the webs between their bosses. The bosses themselves are items and move with their pivots.
 */
import { memo, useMemo, type ReactNode } from 'react';
import type { Member, Motion } from '../../shared/index.ts';
import { useScene } from './context.ts';
import { toGeometry, useGeometry } from './geometry.ts';
import { memberSurface } from './members.ts';
import { memberLook } from './palette.ts';
import { raycastNothing } from './picking.ts';
import type { Anchor } from './placement.ts';
import { Posed } from './Posed.tsx';

interface Props {
  readonly members: Readonly<Record<string, Member>>;
  readonly anchors: Readonly<Record<string, Readonly<Record<string, Anchor>>>>;
  readonly isGhost: boolean;
  readonly pose?: Readonly<Record<string, Motion>> | undefined;
  readonly hidden?: ReadonlySet<string> | undefined;
}

const NONE: Readonly<Record<string, Anchor>> = {};

/** All members of the model. */
export function Members({ members, anchors, isGhost, pose, hidden }: Props): ReactNode {
  return Object.entries(members).map(([id, member]) => (
    <Posed key={id} motion={pose?.[id]}>
      {hidden?.has(id) !== true && <Body member={member} anchors={anchors[id] ?? NONE} isGhost={isGhost} />}
    </Posed>
  ));
}

const Body = memo(function Body({ member, anchors, isGhost }: { readonly member: Member; readonly anchors: Readonly<Record<string, Anchor>>; readonly isGhost: boolean }): ReactNode {
  const { materials } = useScene();
  const key = useMemo(() => `member ${JSON.stringify([member.kind, member.webs, member.points, anchors])}`, [member, anchors]);
  const geometry = useGeometry(key, () => toGeometry(memberSurface(member, anchors)));
  const material = materials.surface(memberLook(member.kind, member.material), isGhost ? 'ghost' : 'plain', false);
  return (
    <>
      {isGhost && <mesh geometry={geometry} material={materials.depth()} renderOrder={9} raycast={raycastNothing} />}
      <mesh geometry={geometry} material={material} renderOrder={isGhost ? 10 : 0} raycast={raycastNothing} />
    </>
  );
});
