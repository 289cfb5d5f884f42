import { DoubleSide, FrontSide } from 'three';
import type { Enclosure, MaterialName } from '../../api/schema';
import { Edges } from '@react-three/drei';
import { memo } from 'react';
import { metres } from './metres';

type Props = Pick<Enclosure, 'size_cm' | 'walls'> & {
  colourOf: (material: MaterialName | undefined) => string;
  edge: string;
};

// Each wall is seen only from inside, so that whichever stand in front of the viewer get out of the way.
export const Walls = memo(function Walls({ size_cm, walls, colourOf, edge }: Props) {
  const [w, d, h] = metres(size_cm);
  const faces = [
    { name: 'floor', at: [w / 2, d / 2, 0], turn: [0, 0, 0], size: [w, d] },
    { name: 'left', at: [0, d / 2, h / 2], turn: [0, Math.PI / 2, 0], size: [h, d] },
    { name: 'right', at: [w, d / 2, h / 2], turn: [0, -Math.PI / 2, 0], size: [h, d] },
    { name: 'front', at: [w / 2, 0, h / 2], turn: [-Math.PI / 2, 0, 0], size: [w, h] },
    { name: 'back', at: [w / 2, d, h / 2], turn: [Math.PI / 2, 0, 0], size: [w, h] },
  ] as const;
  const isClear = (material: MaterialName | undefined) =>
    material === 'open' ||
    material === 'float_glass' ||
    material === 'acrylic' ||
    material === 'polycarbonate';
  return (
    <group>
      {faces.map(({ name, at, turn, size }) => {
        const material = walls?.[name];
        if (material === 'open') return null;
        return (
          <mesh key={name} position={[...at]} rotation={[...turn]} raycast={() => null}>
            <planeGeometry args={[...size]} />
            {isClear(material) ? (
              <meshBasicMaterial
                color="#9fc4c4"
                transparent
                opacity={0.12}
                side={DoubleSide}
                depthWrite={false}
              />
            ) : (
              <meshLambertMaterial color={colourOf(material)} side={FrontSide} />
            )}
          </mesh>
        );
      })}
      <mesh position={[w / 2, d / 2, h / 2]} raycast={() => null}>
        <boxGeometry args={[w, d, h]} />
        <meshBasicMaterial visible={false} />
        <Edges color={edge} />
      </mesh>
    </group>
  );
});
