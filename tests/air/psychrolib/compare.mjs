// SPDX-License-Identifier: Apache-2.0
// AIR.VAPOUR.PRESSURE and AIR.HUMIDITY over a sweep, against the published npm package psychrolib 1.1.1
// (ASHRAE Handbook, Fundamentals 2017, chapter 1, equations 5 and 6; Hyland and Wexler 1983).
//
//     node compare.mjs PULLSHEET FOLDER       FOLDER holds node_modules
//
// The saturation formula of CIPM-2007 (Picard et al. 2008) and that of Hyland and Wexler are two fits of the same
// quantity. Over water from 0.02 to 60 °C they differ by up to 1.9e-4 (at 37 °C), so the tolerance is 2.5e-4 for a
// pressure, and 4e-4 for a ratio of two pressures.
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";

const [program, folder] = process.argv.slice(2);
const psychrolib = createRequire(join(resolve(folder), "package.json"))("psychrolib");
psychrolib.SetUnitSystem(psychrolib.SI);

// The answers of one function for rows of two arguments.
function answers(name, parameters, rows) {
    const file = join(folder, `${name}.csv`);
    writeFileSync(file, [parameters, ...rows].map((row) => row.join(",")).join("\n") + "\n");
    const output = execFileSync(program, ["batch", name, file, "--digits", "15"],
        { encoding: "utf8", maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
    const lines = output.trimEnd().split("\n");
    if (!lines[0].split(",")[2].startsWith(name)) throw new Error(`unexpected columns: ${lines[0]}`);
    if (lines.length !== rows.length + 1) throw new Error(`${lines.length - 1} answers to ${rows.length} questions`);
    return lines.slice(1).map((line) => Number.parseFloat(line.split(",")[2]));
}

let failed = false;

function compare(name, parameters, rows, reference, tolerance) {
    const computed = answers(name, parameters, rows);
    let worst = { deviation: 0, row: rows[0] };
    rows.forEach((row, index) => {
        const deviation = Math.abs(computed[index] / reference(...row) - 1);
        if (!(deviation <= worst.deviation)) worst = { deviation, row };
    });
    const agrees = worst.deviation <= tolerance;
    failed ||= !agrees;
    console.log(`${name}: ${rows.length} points, largest deviation ${worst.deviation.toExponential(2)} at ` +
        `${worst.row.join(", ")}; tolerance ${tolerance}: ${agrees ? "agrees" : "DOES NOT AGREE"}`);
}

const pressures = [];
const dew_points = [];
for (let i = 0; i <= 120; ++i) {
    const temperature = Number((0.02 + i * 0.4998).toFixed(4));
    for (let humidity = 0.05; humidity < 1.001; humidity += 0.05)
        pressures.push([temperature, Number(humidity.toFixed(2))]);
    for (let dew_point = 0.02; dew_point <= temperature; dew_point += 1)
        dew_points.push([temperature, Number(dew_point.toFixed(2))]);
}
compare("AIR.VAPOUR.PRESSURE", ["temperature", "humidity"], pressures,
    (temperature, humidity) => psychrolib.GetVapPresFromRelHum(temperature, humidity) / 1000, 2.5e-4);
compare("AIR.HUMIDITY", ["temperature", "dew_point"], dew_points,
    (temperature, dew_point) => psychrolib.GetRelHumFromTDewPoint(temperature, dew_point), 4e-4);
process.exit(failed ? 1 : 0);
