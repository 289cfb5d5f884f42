// What a finger or a pointer takes hold of. Lamps and spots move as soon as they are pressed and pulled; furniture and
// screens, which fill much of the view, have to be chosen first, so that pulling at them still turns the model.
import { Edges } from '@react-three/drei';
import { type ThreeEvent, useThree } from '@react-three/fiber';
import { memo, useRef } from 'react';
import { DoubleSide, Plane, Quaternion, Vector3 } from 'three';
import type { Vec3 } from '../../api/schema';
import type { Piece } from '../edit/pieces';
import { boundsOf, centreOf } from '../edit/placing';
import { along, metres, turned } from './metres';

export type Moving = {
  onChoose: (id: string) => void;
  onSlide: (id: string, x_cm: number, y_cm: number) => void;
  onLift: (id: string, z_cm: number) => void;
  onEnd: () => void;
};

type Props = { found: Piece; isChosen: boolean; colour: string; moving: Moving };
type Held = { plane: Plane; offset: Vector3; isLift: boolean };

const finger_m = 0.05;
const still_px = 5;

function useHold({ found, moving }: Props) {
  const regress = useThree((state) => state.performance.regress);
  const controls = useThree((state) => state.controls) as { enabled: boolean } | null;
  const held = useRef<Held | null>(null);
  const { id } = found.piece;
  const take = (event: ThreeEvent<PointerEvent>, isLift: boolean) => {
    event.stopPropagation();
    const facing = event.camera.getWorldDirection(new Vector3()).setZ(0).normalize();
    const plane = new Plane().setFromNormalAndCoplanarPoint(
      isLift ? facing : new Vector3(0, 0, 1),
      event.point,
    );
    const offset = event.point.clone().sub(new Vector3(...metres(centreOf(found))));
    held.current = { plane, offset, isLift };
    if (controls) controls.enabled = false;
    (event.target as Element).setPointerCapture(event.pointerId);
  };
  const onPointerMove = (event: ThreeEvent<PointerEvent>) => {
    if (!held.current) return;
    event.stopPropagation();
    const hit = event.ray.intersectPlane(held.current.plane, new Vector3());
    if (!hit) return;
    const place = hit.sub(held.current.offset).multiplyScalar(100);
    regress();
    if (held.current.isLift) moving.onLift(id, place.z);
    else moving.onSlide(id, place.x, place.y);
  };
  const release = (event: ThreeEvent<PointerEvent>) => {
    if (!held.current) return;
    held.current = null;
    if (controls) controls.enabled = true;
    (event.target as Element).releasePointerCapture(event.pointerId);
    moving.onEnd();
  };
  return { take, onPointerMove, onPointerUp: release, onPointerCancel: release };
}

// Met by the pointer and not drawn.
const clear = <meshBasicMaterial visible={false} side={DoubleSide} />;

function useShape(found: Piece) {
  const { min, max } = boundsOf(found);
  const position = metres(centreOf(found));
  const size = metres([max[0] - min[0], max[1] - min[1], max[2] - min[2]]);
  const thick = size.map((m) => Math.max(m, finger_m)) as unknown as Vec3;
  const turn = found.list === 'furniture' ? found.piece.turn_deg : undefined;
  return { position, thick, quaternion: new Quaternion().setFromEuler(turned(turn)) };
}

function Volume({ found, thick }: { found: Piece; thick: Vec3 }) {
  if (found.list === 'lamps') {
    const handle = Math.max(finger_m, (found.piece.diameter_cm ?? 2.6) / 150);
    const length = Math.max((found.piece.length_cm ?? 0) / 100, 2 * handle);
    return <cylinderGeometry args={[handle, handle, length, 8]} />;
  }
  if (found.list === 'spots') return <sphereGeometry args={[0.035, 12, 8]} />;
  return <boxGeometry args={[...thick]} />;
}

// Pulls the chosen piece up and down.
function HeightHandle(props: Props) {
  const { take, ...rest } = useHold(props);
  const { max } = boundsOf(props.found);
  const [x, y] = centreOf(props.found);
  const foot = metres([x, y, max[2]]);
  return (
    <group position={[foot[0], foot[1], foot[2] + 0.09]} quaternion={along([0, 0, 1])}>
      <mesh raycast={() => null} renderOrder={4}>
        <cylinderGeometry args={[0.004, 0.004, 0.1, 8]} />
        <meshBasicMaterial color={props.colour} depthTest={false} transparent />
      </mesh>
      {[0.06, -0.045].map((at, i) => (
        <mesh
          key={at}
          position={[0, at, 0]}
          rotation={[i * Math.PI, 0, 0]}
          raycast={() => null}
          renderOrder={4}
        >
          <coneGeometry args={[0.016, 0.032, 16]} />
          <meshBasicMaterial color={props.colour} depthTest={false} transparent />
        </mesh>
      ))}
      <mesh onPointerDown={(event) => take(event, true)} {...rest}>
        <cylinderGeometry args={[0.04, 0.04, 0.17, 8]} />
        {clear}
      </mesh>
    </group>
  );
}

export const Grip = memo(function Grip(props: Props) {
  const { found, isChosen, colour } = props;
  const { onChoose } = props.moving;
  const { take, ...rest } = useHold(props);
  const { position, thick, quaternion } = useShape(found);
  const isDirect = isChosen || found.list === 'lamps' || found.list === 'spots';
  const isLong = found.list === 'lamps' && found.piece.kind !== 'spot';
  return (
    <>
      <mesh
        position={position}
        quaternion={isLong ? along(found.piece.along ?? [1, 0, 0]) : quaternion}
        onPointerDown={(event) => {
          if (!isDirect) return;
          onChoose(found.piece.id);
          take(event, event.shiftKey);
        }}
        onClick={(event) => {
          if (event.delta > still_px || isDirect) return;
          event.stopPropagation();
          onChoose(found.piece.id);
        }}
        {...rest}
      >
        <Volume found={found} thick={thick} />
        {clear}
        {isChosen && <Edges color={colour} renderOrder={4} />}
      </mesh>
      {isChosen && <HeightHandle {...props} />}
    </>
  );
});
