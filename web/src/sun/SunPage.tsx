export default function SunPage() {
  return <h1>Sun</h1>;
}
