export default function FirstRunPage() {
  return <h1>FirstRun</h1>;
}
