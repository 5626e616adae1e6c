// SPDX-License-Identifier: Apache-2.0
// ROAD.TIME against the road tests of 400 cars of 1970 to 1982, data/cars.json of the npm package vega-datasets 3.2.1
// (the data of the 1983 Data Exposition of the American Statistical Association: power, weight, seconds from 0 to 60 mph).
//
//     node compare.mjs PULLSHEET FOLDER       FOLDER holds node_modules
//
// One car for all: only mass and power are those of each car. Nothing is adjusted to the data; the figures are those that
// textbooks give for cars of that time. Printed is the median of predicted over measured, what holds eight of ten cars, and
// the rank correlation; then what each assumption moves. Asked of the first line: a median within 0.85 to 1.15, a rank
// correlation of at least 0.75.
//
// What the assumptions move, measured with this test: median and rank correlation.
//     as stated                                     0.989          0.80
//     shift time 0.2 or 1.0 s, not 0.5              0.939, 1.071   0.80
//     grip 0.6 or 1.0, not 0.8                      1.044, 0.986   0.80
//     rise of torque 0 or 0.6 s, not 0.3            0.959, 1.021   0.80
//     driveline efficiency 0.80 or 0.90, not 0.85   1.054, 0.935   0.80
//     a driver of 75 kg, not 136 kg of load         0.955          0.80
//     power before 1972 gross: a fifth less net     1.003          0.72
// The power is taken as printed. In the trade it was rated gross, without accessories and exhaust, until 1971; taken down by
// a fifth for those years the median stays and the order of the cars fits less well, below what is asked.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const [program, folder] = process.argv.slice(2);
const cars = JSON.parse(readFileSync(join(folder, "node_modules/vega-datasets/data/cars.json"), "utf8"))
    .filter((car) => car.Horsepower && car.Weight_in_lbs && car.Acceleration);

// Torque over engine speed, against that at rated power, which lies at 4800 rpm.
const curve = [[1000, 1.05], [2000, 1.17], [2600, 1.2], [3500, 1.15], [4800, 1], [5300, 0.85]];
const stated = { shift_time: 0.5, grip: 0.8, rise: 0.3, efficiency: 0.85, gross: 1, load: 136 };

function row(car, assumed) {
    const is_gross = Number(car.Year.slice(0, 4)) < 1972;
    const power = car.Horsepower * 745.69987 * (is_gross ? assumed.gross : 1);
    const rated_torque = power / (4800 * Math.PI / 30);
    return {
        vehicle: [["mass", car.Weight_in_lbs * 0.45359237 + assumed.load, "kg"], ["drive", "rear", ""],
            ["rolling radius", 0.31, "m"], ["drag area", 0.95, "m²"], ["rolling resistance", 0.015, ""],
            ["front share", 0.55, ""], ["grip", assumed.grip, ""], ["gear 1", 3.5, ""], ["gear 2", 2, ""],
            ["gear 3", 1.4, ""], ["gear 4", 1, ""], ["final drive", 3.5, ""],
            ["driveline efficiency", assumed.efficiency, ""], ["rev limit", 5300, "rpm"],
            ["shift time", assumed.shift_time, "s"], ["rise time of torque", assumed.rise, "s"]],
        speeds: curve.map(([speed]) => speed),
        torques: curve.map(([, share]) => share * rated_torque),
        from: 0,
        to: "60 mph",
    };
}

function times(assumed) {
    const file = join(folder, "cars.jsonl");
    writeFileSync(file, cars.map((car) => JSON.stringify(row(car, assumed))).join("\n") + "\n");
    const output = execFileSync(program, ["batch", "ROAD.TIME", file, "--json"],
        { encoding: "utf8", maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
    return output.trimEnd().split("\n").map((line) => {
        const answer = JSON.parse(line);
        const time = answer[Object.keys(answer).find((key) => key.startsWith("ROAD.TIME"))];
        if (typeof time !== "number") throw new Error(`no time: ${line}`);
        return time;
    });
}

function ranks(values) {
    const order = values.map((value, index) => index).sort((a, b) => values[a] - values[b]);
    const result = [];
    for (let first = 0; first < order.length;) {
        let last = first;
        while (last + 1 < order.length && values[order[last + 1]] === values[order[first]]) ++last;
        for (let i = first; i <= last; ++i) result[order[i]] = (first + last) / 2;
        first = last + 1;
    }
    return result;
}

function correlation(a, b) {
    const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;
    const [mean_a, mean_b] = [mean(a), mean(b)];
    const sum = (f) => a.reduce((total, _, i) => total + f(a[i] - mean_a, b[i] - mean_b), 0);
    return sum((x, y) => x * y) / Math.sqrt(sum((x) => x * x) * sum((_, y) => y * y));
}

const measured = cars.map((car) => car.Acceleration);

function compare(name, changed) {
    const predicted = times({ ...stated, ...changed });
    const ratios = predicted.map((time, i) => time / measured[i]).sort((a, b) => a - b);
    const at = (share) => ratios[Math.round(share * (ratios.length - 1))];
    const rank = correlation(ranks(predicted), ranks(measured));
    console.log(`${name}: median ${at(0.5).toFixed(3)}, eight of ten ${at(0.1).toFixed(2)} to ${at(0.9).toFixed(2)}, ` +
        `rank correlation ${rank.toFixed(3)}`);
    return { median: at(0.5), rank };
}

console.log(`predicted over measured, 0 to 60 mph, ${cars.length} cars`);
const result = compare("as stated", {});
compare("shift time 0.2 s", { shift_time: 0.2 });
compare("shift time 1 s", { shift_time: 1 });
compare("grip 0.6", { grip: 0.6 });
compare("grip 1", { grip: 1 });
compare("no rise of torque", { rise: 0 });
compare("rise of torque 0.6 s", { rise: 0.6 });
compare("driveline efficiency 0.80", { efficiency: 0.8 });
compare("driveline efficiency 0.90", { efficiency: 0.9 });
compare("power before 1972 gross", { gross: 0.8 });
compare("driver alone", { load: 75 });

const agrees = cars.length >= 390 && result.median >= 0.85 && result.median <= 1.15 && result.rank >= 0.75;
console.log(agrees ? "agrees" : "DOES NOT AGREE");
process.exit(agrees ? 0 : 1);
