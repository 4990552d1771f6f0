export default function Page() {
  return <main />
}
