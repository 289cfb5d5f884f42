export default function LampsPage({ id }: { id?: string }) {
  return <h1>Lamps {id}</h1>;
}
