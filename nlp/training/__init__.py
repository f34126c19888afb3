"""What the reader is measured and trained with: the annotated corpus and the commands around it."""
