"""The filling pump: it pushes fuel in or draws it out, with the flow and pressure it has."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.ground import Vented, opened, tapped
from plumbing.simulation.moment import Balance, Moment


@frozen(eq=False)
class Pump:
    """A filling pump in S scenarios: a flow, unless that takes more than its pressure.

    Attributes
    ----------
    network : Vented
        What it pushes into, or draws from.
    node : int
        Where.
    flow : Array
        Flow pushed in, negative if drawn out, shape (S,) [m3/s].
    most : float
        Largest pressure it gives, or suction if it draws [Pa].
    """

    network: Vented
    node: int
    flow: Array
    most: float = np.inf

    @property
    def side(self) -> float:
        """1 if it pushes, -1 if it draws."""
        return 1.0 if self.flow[0] > 0.0 else -1.0

    @property
    def outlets(self) -> tuple[str, ...]:
        """Nodes of the outlets; the place where fuel is pushed in is none."""
        plumbed = self.network.plumbed
        return tuple(n for n in plumbed.outlets if n != plumbed.circuit.nodes[self.node])

    @property
    def has_loops(self) -> bool:
        """Whether flow can go round, so that pressures are found together with the flows."""
        return topology(tapped(self.network, self.node, -self.flow).plumbed.circuit).paths is None

    def at_rest(self) -> PumpAtWork:
        """Ready to be asked, nothing found yet."""
        return PumpAtWork(self)


class PumpAtWork:
    """Balances of a filling pump, each begun from what was found last."""

    def __init__(self, pump: Pump) -> None:
        self.pump, flows = pump, len(pump.flow)
        self.tapped = tapped(pump.network, pump.node, -pump.flow)
        if pump.side < 0.0:
            self.tapped = replace(self.tapped, limit=pump.most)
        self._free = self.tapped.remembering(flows)
        if self._may_hold:
            self._held = self._holding().remembering(flows)

    @property
    def _may_hold(self) -> bool:
        """Whether it pushes, and no harder than some pressure."""
        return self.pump.side > 0.0 and bool(np.isfinite(self.pump.most))

    def _holding(self) -> Vented:
        """The network with the pump at its largest pressure, giving nothing but fuel."""
        node = self.pump.node
        holding = opened(self.pump.network, node)
        wetted, imposed = np.array(holding.wetted), np.array(holding.imposed)
        circuit, imposed[node] = holding.plumbed.circuit, self.pump.most
        wetted[:, circuit.start == node, 0] = True
        wetted[:, circuit.end == node, 1] = True
        return replace(holding, wetted=wetted, imposed=imposed)

    def balance(
        self,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array,
        draws: Flags | None = None,
    ) -> Balance:
        """Balance of scenarios (R,) with fuel and gas (R, T) [m3]."""
        free = self._free(rows, stretch, volume, gas, draws)
        if self.pump.side < 0.0:
            return replace(free, share=free.mix)
        if not self._may_hold:
            return free
        found = self.solved(free, rows)
        weak = np.flatnonzero(found.pressure[:, self.pump.node] > self.pump.most)
        if not weak.size:
            return found
        held = self._held(rows[weak], stretch[weak], volume[weak], gas[weak])
        through = held.spilt[:, -1:]
        return found.put(
            weak,
            replace(
                held,
                drawn=np.concatenate([held.drawn, through], axis=1),
                burnt=np.concatenate([held.burnt, through], axis=1),
                share=np.concatenate([held.share, np.ones_like(through)], axis=1),
                spilt=held.spilt[:, :-1],
            ),
        )

    def extreme(self, seen: list[Moment]) -> Array:
        """Gauge pressure at every node, the larger of both ends of each step, (M, S, N) [Pa].

        The larger is the one on the side of the pump: higher when pushed, lower when drawn.
        """
        rows = np.tile(np.arange(len(self.pump.flow)), len(seen))
        began, ended = (
            self.pressures(Balance.joined([getattr(one, end) for one in seen]), rows)
            for end in ("began", "ended")
        )
        side = self.pump.side
        return np.asarray(side * np.maximum(side * began, side * ended)).reshape(
            len(seen), len(self.pump.flow), -1
        )

    def solved(self, found: Balance, rows: Indices) -> Balance:
        """The same with pressures solved for."""
        every = np.ones(len(rows), dtype=bool)
        return replace(found, pressure=self.pressures(found, rows), solved=every)

    def pressures(self, found: Balance, rows: Indices) -> Array:
        """Gauge pressure at every node of scenarios (R,) that were balanced, shape (R, N) [Pa]."""
        return self.tapped.pressures(found, rows, np.zeros_like(rows))
