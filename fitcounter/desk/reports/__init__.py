"""The owner's book: estimate against result, and what each leather keeps."""
