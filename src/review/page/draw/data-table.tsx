interface DataTableProps {
  readonly summary: string;
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly open?: boolean;
}

/** The numbers of a plot as a table, folded away until asked for. */
export function DataTable({ summary, caption, head, rows, open = false }: DataTableProps) {
  return (
    <details class="table-of" open={open}>
      <summary>{summary}</summary>
      <Table caption={caption} head={head} rows={rows} />
    </details>
  );
}

interface TableProps {
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A region that scrolls must be reachable by keyboard (WCAG 2.1.1); Safari does not see to it by itself. */
const REACHABLE = { tabIndex: 0 };

/** A table whose first column names its rows; it scrolls sideways on a phone, by keyboard too. */
export function Table({ caption, head, rows }: TableProps) {
  return (
    <section class="table-scroll" aria-label={caption} {...REACHABLE}>
      <table>
        <caption class="spoken">{caption}</caption>
        <thead>
          <tr>
            {head.map((word) => (
              <th key={word} scope="col">
                {word}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row[0]}>
              {row.map((cell, column) =>
                column === 0 ? (
                  <th key={head[column]} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={head[column]}>{cell}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
