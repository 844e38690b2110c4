"""The field log: what people do, as events that never change, and the state folded from them."""
