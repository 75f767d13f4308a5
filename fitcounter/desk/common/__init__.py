"""What every use case needs: typed fields, contact details, money, files, item steps, wear
rules.
"""
