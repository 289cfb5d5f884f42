// The surfaces in space at which the animal's band begins and ends.
import { useEffect, useMemo } from 'react';
import { BufferGeometry, DoubleSide, Float32BufferAttribute } from 'three';
import type { Field } from '../../api/client';
import { colourAt, placeOnScale, type Scale } from '../../parts/colourScale';
import { shellOf } from '../shell';

type Props = { field: Field; band: readonly [number, number]; scale: Scale };

function Shell({ field, level, colour }: { field: Field; level: number; colour: string }) {
  const geometry = useMemo(() => {
    const metres = shellOf(field, level).map((cm) => cm / 100);
    const built = new BufferGeometry().setAttribute('position', new Float32BufferAttribute(metres, 3));
    built.computeVertexNormals();
    return built;
  }, [field, level]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return (
    <mesh geometry={geometry} raycast={() => null} renderOrder={2}>
      <meshLambertMaterial color={colour} transparent opacity={0.3} side={DoubleSide} depthWrite={false} />
    </mesh>
  );
}

export function BandShells({ field, band, scale }: Props) {
  return band
    .filter((level) => level > 0)
    .map((level) => (
      <Shell key={level} field={field} level={level} colour={colourAt(placeOnScale(scale, level))} />
    ));
}
