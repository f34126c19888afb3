"""What is worth the creator's time: likeness, interest and her own rulings."""

from bot.queue.interest import Interest, Weights, interest
from bot.queue.likeness import LikenessIndex, Sketch, sketch
from bot.queue.rulings import Ruling, reaches

__all__ = ["Interest", "LikenessIndex", "Ruling", "Sketch", "Weights", "interest", "reaches", "sketch"]
