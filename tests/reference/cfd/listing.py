"""The CSV files of the series: remarks on top, columns with units, a row a run."""
import os

FOLDER = os.path.dirname(os.path.abspath(__file__))


def cell(value):
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def write(name, columns, rows, folder=FOLDER):
    """Writes `name`. The remarks of the committed file stay on top: they say what was measured in
    words, which whoever runs the series reads again."""
    with open(os.path.join(FOLDER, name), encoding="utf-8") as file:
        remarks = [line for line in file if line.startswith("#")]
    with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
        file.writelines(remarks)
        file.write(",".join(f"{column} [-]" for column in columns) + "\n")
        for row in rows:
            file.write(",".join(cell(row[column]) for column in columns) + "\n")
