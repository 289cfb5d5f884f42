// Everything that stands in the enclosure: to choose it, to add to it.
import { Button, Menu, UnstyledButton } from '@mantine/core';
import { memo } from 'react';
import type { Enclosure, Problem } from '../api/schema';
import { showLength, useLengthUnit, type LengthUnit } from '../parts/units';
import { Nothing } from '../parts/Waiting';
import { nameOf } from './document';
import { choices, type Choice } from './edit/palette';
import { lists, listWords, piecesOf, type Piece } from './edit/pieces';
import { boundsOf } from './edit/placing';
import { problemsAt } from './edit/problems';
import { firstOutput } from './forms/LampForm';
import classes from './PieceList.module.css';

type Props = {
  enclosure: Enclosure;
  problems: readonly Problem[];
  chosen: string | null;
  onChoose: (id: string) => void;
  onAdd: (choice: Choice) => void;
};

const plain = (words: string) => words.replaceAll('_', ' ');

function outputWords(piece: Piece & { list: 'lamps' }, unit: LengthUnit): string {
  const output = firstOutput(piece.piece);
  if (!output) return 'output unknown: counts as dark';
  const at = `at ${showLength(output.at_cm, unit)}`;
  if (output.uvi !== undefined) return `UVI ${output.uvi} ${at}`;
  if (output.lux !== undefined) return `${output.lux.toLocaleString('en')} lx ${at}`;
  return `${output.irradiance_w_m2 ?? 0} W/m² ${at}`;
}

function summary(found: Piece, unit: LengthUnit): string {
  switch (found.list) {
    case 'lamps': {
      const { spectrum, power_w } = found.piece;
      const parts = [found.piece.kind, typeof spectrum === 'string' ? plain(spectrum) : null];
      if (power_w !== undefined) parts.push(`${power_w} W`);
      return `${parts.filter(Boolean).join(', ')}; ${outputWords(found, unit)}`;
    }
    case 'screens': {
      const { mesh, pane, transmittance } = found.piece;
      if (transmittance !== undefined) return `lets ${Math.round(100 * transmittance)} % through, measured`;
      if (mesh) return `mesh of ${mesh.pitch_mm} mm, wire ${mesh.wire_mm} mm`;
      return pane
        ? `${typeof pane.material === 'string' ? plain(pane.material) : 'pane'}, ${pane.thickness_mm} mm`
        : '';
    }
    case 'furniture': {
      const { shape, material, perch } = found.piece;
      const of = typeof material === 'string' ? `, ${plain(material)}` : '';
      return `${shape === 'foliage' ? 'leaves' : shape}${of}${perch ? ', to perch on' : ''}`;
    }
    case 'spots': {
      const role = { bask: 'to bask', retreat: 'to retreat', other: 'a place' }[found.piece.role ?? 'other'];
      return `${role}, ${showLength(boundsOf(found).min[2], unit)} above the floor`;
    }
  }
}

function AddMenu({ onAdd }: Pick<Props, 'onAdd'>) {
  return (
    <Menu position="bottom-end" withinPortal shadow="md">
      <Menu.Target>
        <Button size="compact-sm">Add…</Button>
      </Menu.Target>
      <Menu.Dropdown>
        {lists.map((list) => (
          <div key={list} role="group" aria-label={listWords[list].many}>
            <Menu.Label>{listWords[list].many}</Menu.Label>
            {choices
              .filter((choice) => choice.list === list)
              .map((choice) => (
                <Menu.Item key={choice.key} onClick={() => onAdd(choice)}>
                  {choice.words}
                </Menu.Item>
              ))}
          </div>
        ))}
      </Menu.Dropdown>
    </Menu>
  );
}

export const PieceList = memo(function PieceList({ enclosure, problems, chosen, onChoose, onAdd }: Props) {
  const [unit] = useLengthUnit();
  const all = piecesOf(enclosure);
  return (
    <div className={classes.pieces}>
      <div className={classes.add}>
        <AddMenu onAdd={onAdd} />
      </div>
      {all.length === 0 && <Nothing>Nothing stands in it yet. Add a lamp, a stone, a spot.</Nothing>}
      {lists.map((list) => {
        const own = all.filter((found) => found.list === list);
        if (own.length === 0) return null;
        return (
          <div key={list}>
            <h3 className={classes.kind}>{listWords[list].many}</h3>
            <ul className={classes.list}>
              {own.map((found, i) => {
                const wrong = problemsAt(problems, list, i).length;
                return (
                  <li key={found.piece.id}>
                    <UnstyledButton
                      className={classes.piece}
                      aria-pressed={found.piece.id === chosen}
                      onClick={() => onChoose(found.piece.id)}
                    >
                      <b>{nameOf(found.piece)}</b>
                      <span>{summary(found, unit)}</span>
                      {wrong > 0 && <span className={classes.wrong}>refused: look here</span>}
                    </UnstyledButton>
                  </li>
                );
              })}
            </ul>
          </div>
        );
      })}
    </div>
  );
});
