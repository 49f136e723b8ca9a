"""Random values over the range that the trade meets, as decimals of few digits."""

import math
import random


class Draw:
    """A source of values that depends on nothing but the name of the record."""

    def __init__(self, name):
        self.random = random.Random("reference " + name)

    def between(self, low, high, figures=3):
        return float("%.*g" % (figures, self.random.uniform(low, high)))

    def spread(self, low, high, figures=3):
        """As between, but evenly over the decades."""
        x = math.exp(self.random.uniform(math.log(low), math.log(high)))
        return float("%.*g" % (figures, x))

    def one_of(self, *choices):
        return self.random.choice(choices)

    def supply(self):
        """Nominal and highest supply voltage; nothing above 60 V."""
        nominal = self.one_of(3.7, 5.0, 6.0, 7.4, 9.0, 12.0, 13.8, 18.0, 19.0, 24.0, 36.0, 48.0)
        return nominal, float("%.4g" % (nominal * self.one_of(1, 1.02, 1.05, 1.1, 1.2)))
