"""The blown rotor's spin-up from rest in time, cold, after models/start.md: rotor, oil films, winding
and pack, on a bench of bench_model.py."""
import copy

import numpy as np
from scipy.integrate import solve_ivp

from bench_model import at_table, films, kinematic_viscosity, operate, shaft_speed, sound_torque, with_stall
from bench_model import balance_fan


class SpinUp:
    """State: speed [rad/s], film temperature [K], winding temperature [K], charge used [C]."""

    charge_steps = 64

    def __init__(self, bench, stand_off, start):
        self.bench, self.start = bench, start
        self.stand_off = np.full(1, stand_off)
        self.drive = copy.copy(bench.drive)
        pack = bench.parts["drive"]["pack"]
        full = pack["state_of_charge"]
        left = full * (1.0 - np.arange(self.charge_steps + 1) / self.charge_steps)
        table = getattr(bench.c.drive, "open_circuit_" + pack["chemistry"])
        self.voltages = pack["cells"] * np.array([at_table(table, charge) for charge in left])
        self.charges = np.linspace(0.0, full * pack["capacity"], self.charge_steps + 1)
        self.flow = 0.1 * bench.ambient.density * bench.area * bench.velocity
        bearings = bench.parts["engine"]["bearings"]
        self.oil = bearings["oil"]
        friction = bench.parts["engine"]["calibration"]["friction"]
        self.films = friction * films(bearings, bench.c.bearings) * self.oil["density"]

    def rest(self):
        room = self.bench.ambient.temperature
        return [0.0, self.start["oil_temperature_k"], room, 0.0]

    def blow(self, winding, charge):
        """The fan into the open, with winding and pack as they are."""
        bench, drive = self.bench, self.drive
        warmth = winding - bench.ambient.temperature
        drive.open_circuit = np.interp(charge, self.charges, self.voltages)
        drive.motor_resistance = bench.drive.motor_resistance * (
            1.0 + bench.c.drive.copper_temperature_coefficient * warmth
        )
        velocity, swirl = operate(
            bench.fan, drive, bench.parts["throttle"], bench.ambient, np.zeros(1)
        )
        bench.velocity = velocity
        bench.jet.swirl = swirl
        bench.jet.wind_ratio = bench.ambient.wind / velocity
        bench.stand(self.stand_off)

    def current(self, excess):
        fan, drive = self.bench.fan, self.drive
        flow = balance_fan(fan.curve, 1.0 + excess)
        load = fan.load * with_stall(sound_torque, fan.curve, flow)[0]
        speed = shaft_speed(drive, load, 1.0)
        return drive.no_load_current + drive.speed_constant * load * speed**2

    def close(self, speed):
        """Flow that passes, from the last one."""
        bench = self.bench

        def left_over(m):
            offered = bench.supply(m)
            left, torque = bench.engine.march(
                bench.ambient, m, speed, bench.ambient.pressure + offered.wheel, offered.swirl
            )
            return left, torque, offered.excess

        before, m = self.flow, self.flow * (1.0 + 1e-3)
        value = left_over(before)[0]
        for _ in range(40):
            new, torque, excess = left_over(m)
            step = np.clip(m - new * (m - before) / (new - value), 0.5 * m, 2.0 * m) - m
            before, value = m, new
            if np.abs(step) <= 1e-10 * m:
                break
            m = m + step
        self.flow = m
        return torque, excess

    def rates(self, _, state):
        speed, film, winding, charge = state
        bench, start = self.bench, self.start
        self.blow(winding, charge)
        gas, excess = self.close(np.array([max(0.0, speed)]))
        nu, _ = kinematic_viscosity(self.oil, bench.c.bearings.viscosity_offset, film)
        drag = self.films * nu * max(0.0, speed)
        motor = bench.parts["motor"]
        current = self.current(excess)
        heat = current**2 * self.drive.motor_resistance - motor["winding_conductance"] * (
            winding - bench.ambient.temperature
        )
        oil = start["oil_conductance_w_k"] * (film - start["oil_temperature_k"])
        return [
            float(gas - drag) / start["inertia_kg_m2"],
            float(drag * speed - oil) / start["film_capacity_j_k"],
            float(heat) / motor["winding_heat_capacity"],
            float(current),
        ]

    def run(self, times, tolerance):
        return solve_ivp(
            self.rates,
            (times[0], times[-1]),
            self.rest(),
            method="RK45",
            t_eval=times,
            rtol=tolerance,
            atol=0.01 * tolerance,
        )
