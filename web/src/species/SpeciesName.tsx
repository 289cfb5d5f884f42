import { Link } from 'wouter';
import { useSpecies } from '../api/queries';

// A species by the name people say, leading to its sheet; by its id until the sheet is there.
export function SpeciesName({ id }: { id: string }) {
  const { data } = useSpecies(id);
  const plain = id.replaceAll('_', ' ');
  return (
    <Link href={`/species/${encodeURIComponent(id)}`}>
      {data?.common_names[0] ?? data?.scientific_name ?? plain.charAt(0).toUpperCase() + plain.slice(1)}
    </Link>
  );
}
